"""Plant and cautions: its Terms, sources, tables and formulas."""
