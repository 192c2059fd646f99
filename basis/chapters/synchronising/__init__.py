"""Synchronising and sharing: its Terms, sources, tables and formulas."""
