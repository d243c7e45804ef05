"""The XML that tells LibreOffice what the extension is, what it brings and which job it binds to which event."""

from __future__ import annotations

IDENTIFIER = "org.davitbook.calc"
OLDEST_LIBREOFFICE = "7.4"

MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE manifest:manifest PUBLIC "-//OpenOffice.org//DTD Manifest 1.0//EN" "Manifest.dtd">
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
 <manifest:file-entry manifest:full-path="davitbook.idl"
  manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
 <manifest:file-entry manifest:full-path="component.py"
  manifest:media-type="application/vnd.sun.star.uno-component;type=Python"/>
 <manifest:file-entry manifest:full-path="load_job.py"
  manifest:media-type="application/vnd.sun.star.uno-component;type=Python"/>
 <manifest:file-entry manifest:full-path="jobs.xcu"
  manifest:media-type="application/vnd.sun.star.configuration-data"/>
</manifest:manifest>
"""

JOBS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:component-data xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"
 oor:name="Jobs" oor:package="org.openoffice.Office">
 <node oor:name="Jobs">
  <node oor:name="DavitbookLoadJob" oor:op="replace">
   <prop oor:name="Service"><value>org.davitbook.calc.LoadJob</value></prop>
  </node>
 </node>
 <node oor:name="Events">
  <node oor:name="OnLoadFinished" oor:op="fuse">
   <node oor:name="JobList">
    <node oor:name="DavitbookLoadJob" oor:op="replace"/>
   </node>
  </node>
 </node>
</oor:component-data>
"""

_DESCRIPTION = """<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006"
 xmlns:d="http://openoffice.org/extensions/description/2006"
 xmlns:lo="http://libreoffice.org/extensions/description/2011" xmlns:xlink="http://www.w3.org/1999/xlink">
 <identifier value="{identifier}"/>
 <version value="{version}"/>
 <dependencies>
  <lo:LibreOffice-minimal-version d:name="LibreOffice {oldest}" value="{oldest}"/>
 </dependencies>
 <display-name><name lang="en">davitbook cell functions</name></display-name>
 <extension-description><src lang="en" xlink:href="description.txt"/></extension-description>
</description>
"""

ABOUT = """Cell functions about a merchant ship's life-saving and fire-fighting appliances, for LibreOffice Calc.

=LSA_REQUIRED("hand flare";"lifeboat";36) answers 6. All functions stand in the Function Wizard under Add-in.
Works without a network. Needs a LibreOffice whose Python is 3.11 or later.

An aid to the officer's own check. The convention's official text, the flag Administration, class, the maker's manual
and the master decide. MIT licence.
"""


def description(version: str) -> str:
    """description.xml for this version of the package."""
    return _DESCRIPTION.format(identifier=IDENTIFIER, version=version, oldest=OLDEST_LIBREOFFICE)
