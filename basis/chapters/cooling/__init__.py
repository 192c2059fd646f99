"""Cooling: its Terms, sources, tables and formulas."""
