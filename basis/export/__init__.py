"""A book as data for other programs: one JSON file, tables, a workbook whose formulas run, a calendar. Reads the Book; computes nothing."""
