"""Cables as installed: its Terms, sources, tables and formulas."""
