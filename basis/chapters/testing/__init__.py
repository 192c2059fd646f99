"""Exercise and tests: its Terms, sources, tables and formulas."""
