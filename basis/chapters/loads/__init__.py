"""Loads and sets: its Terms, sources, tables and formulas."""
