"""Starting: its Terms, sources, tables and formulas."""
