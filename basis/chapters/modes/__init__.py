"""Running modes: its Terms, sources, tables and formulas."""
