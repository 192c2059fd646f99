"""Generating voltage: its Terms, sources, tables and formulas."""
