"""Exhaust: its Terms, sources, tables and formulas."""
