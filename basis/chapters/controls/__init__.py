"""Controls and signals: its Terms, sources, tables and formulas."""
