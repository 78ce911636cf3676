"""What is taken along: sheets on paper, code to scan, files of parts."""
