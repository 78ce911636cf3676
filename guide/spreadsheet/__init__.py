"""The catalog as a spreadsheet: out of the content files, and back into them cell by cell."""
