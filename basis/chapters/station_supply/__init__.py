"""Station supply: its Terms, sources, tables and formulas."""
