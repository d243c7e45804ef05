"""What runs inside LibreOffice: copied into the extension, never imported by the rest of the package."""
