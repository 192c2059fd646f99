"""Upkeep and life: its Terms, sources, tables and formulas."""
