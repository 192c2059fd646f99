"""Foundation: its Terms, sources, tables and formulas."""
