"""What a person who sets up Excel on a ship's locked-down PC reads."""

from __future__ import annotations

from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.page import exceptions
from workbook_tools.core.caution import CAUTION

CONFIGURATION_NAME = "myaddin.conf"  # the name that xlwings gives the settings of an add-in of one's own
CONFIGURATION = """"INTERPRETER_WIN","C:\\Program Files\\Python311\\pythonw.exe"
"PYTHONPATH","C:\\davitbook"
"ADD_WORKBOOK_TO_PYTHONPATH","False"
"UDF_MODULES","workbook_tools.addins.excel.udfs"
"DEBUG UDFS","False"
"SHOW CONSOLE","False"
"""
_STEPS = """# The cell functions in Excel

{caution}

**How far this has been tried.** The module, the VBA and the calls have been run through xlwings' own registration, VBA
generation and call path, on Linux, over stand-ins for the COM modules of Windows, with the same table of cases as the
other routes; the part of the VBA that is our own by LibreOffice's Basic. They have not been run inside Excel. Try
`=LSA_TPA(21)`, which must give 3, before you rely on them.

## Do you need it?

The workbook itself needs nothing of this: it is filled in with macros, cmd and Python all blocked, and `davitbook
check` audits it elsewhere. `davitbook addin lambda` writes most of the functions as named formulas for Excel 365, with
no macros and no Python either. This add-in is for those who want every function in every workbook of theirs.

## What is in this folder

| File | What it is |
|---|---|
| davitbook_functions.bas | the VBA module: one function for each of ours, calling Python through xlwings |
| workbook_tools | the Python module (addins/excel/udfs.py), with the rules; it needs xlwings and nothing else |
| {configuration} | the settings that xlwings reads |
| README.md | this page |

Only the part of xlwings under its BSD licence is used. Its paid parts (xlwings.server, xlwings.pro) are not.

## Once, by whoever prepares the PCs

You need a PC with Excel for Windows, where you may open the VBA editor, and Python {python} or later.

1. Install xlwings into the Python that the ships' PCs will have, in the same folder on each: `python -m pip install
   xlwings=={xlwings}`. The version must be the same on every PC: the add-in asks for a library of that very version.
2. `xlwings quickstart davitbook --addin` makes a folder with `davitbook.xlam`. Delete the `.py` file in it.
3. Copy `davitbook.xlam` and the files of this folder into one folder with the same path on every PC, such as
   `C:\\davitbook`.
4. Open `davitbook.xlam` in Excel, then the VBA editor (Alt+F11). Remove the module `xlwings_udfs` if there is one.
   File, Import File, `davitbook_functions.bas`. This needs neither the Developer tab nor "Trust access to the VBA
   project object model".
5. In the properties of ThisWorkbook set IsAddin to False: the add-in shows itself as a workbook. Rename its sheet
   `_{configuration}` to `{configuration}` and write the lines of the file `{configuration}` into it, key in column A,
   value in column B, without quotes, with your own paths: `pythonw.exe` after INTERPRETER_WIN, the folder of step 3
   after PYTHONPATH. (Or leave the sheet, correct the file, and copy it to
   `%USERPROFILE%\\.myaddin\\{configuration}` on every PC.) ADD_WORKBOOK_TO_PYTHONPATH stays False, so that a file that
   lies beside somebody's workbook is never run.
6. For the help of each argument in the function wizard run the macro DescribeFunctions once.
7. Set IsAddin to True again and save. Do not press Import Functions afterwards: it would write the module anew, without
   real errors.

## On each ship's PC

1. Copy the folder to a place where macros are trusted. If there is none: File, Options, Trust Center, Trust Center
   Settings, Trusted Locations, Add new location. Where that is greyed out, the administrator has fixed the list: ask
   which folders are on it, or use the LAMBDA names (`davitbook addin lambda`).
2. A file that came by e-mail or from the web is blocked by Windows: right-click `davitbook.xlam`, Properties, Unblock.
3. File, Options, Add-ins, Manage: Excel Add-ins, Go, Browse, `davitbook.xlam`. No developer mode is needed.
4. In a cell: `=LSA_REQUIRED("hand flare","lifeboat",36)` gives 6.

## When something is blocked

| What you see | Why | What to do |
|---|---|---|
| #NAME? in every cell | the add-in is not loaded, or macros are off | step 3 above; else the LAMBDA names |
| a text about xlwings64-...dll in the cell | another version of xlwings, or another Python | INTERPRETER_WIN |
| nothing, or an error after some seconds | cmd.exe is blocked: xlwings starts Python by it | the next paragraph |
| 0 everywhere after opening | an older xlwings module | import davitbook_functions.bas again |
| 25.0 is taken for 25 | nothing is wrong | numbers reach Python as 25.0, which reads as 25 |

**cmd.exe is blocked.** Set DEBUG UDFS to True in the settings. Excel then starts nothing, and looks for a Python that
runs already. Start it by a shortcut (in the Startup folder, if you like) to
`"C:\\Program Files\\Python311\\pythonw.exe" -c "import sys; sys.path.insert(0, r'C:\\davitbook'); import xlwings;
xlwings.serve()"`. Where Python itself is blocked, use the LAMBDA names.

**Macros are blocked for good.** Use the workbook as it is, or the named formulas for Excel 365.

## What is different from LibreOffice

- An error in an argument passes through; errors of Excel newer than #N/A and its kin (#SPILL!, #CALC!) give #VALUE!.
- A blank cell is blank. (LibreOffice hands it over as 0, which matters for {exceptions}.)
- Dates arrive as Excel shows them; set a book of the 1904 system to the 1900 system first.
- A whole column (A:A) works but is slow: Excel hands over a million cells each time. Give the used range.
- Thousands of single calls are slow as well, since each crosses to Python: give a range, and the answer spills.
- In Excel before 365 a range needs an array formula: select the cells, type the formula, Ctrl+Shift+Enter.

## The functions

{functions}
"""


def guide(xlwings_version: str) -> str:
    """The page of the folder."""
    return _STEPS.format(
        caution=CAUTION,
        python="3.11",
        configuration=CONFIGURATION_NAME,
        xlwings=xlwings_version,
        exceptions=", ".join(f"{argument} of {function}" for function, argument in exceptions()),
        functions="\n".join(f"- {function.name}: {function.help}" for function in FUNCTIONS.values()),
    )
