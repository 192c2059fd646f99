"""Ventilation: its Terms, sources, tables and formulas."""
