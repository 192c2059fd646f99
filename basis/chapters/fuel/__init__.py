"""Fuel: its Terms, sources, tables and formulas."""
