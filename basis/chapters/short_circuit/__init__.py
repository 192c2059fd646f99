"""Short circuit: its Terms, sources, tables and formulas."""
