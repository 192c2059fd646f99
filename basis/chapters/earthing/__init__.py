"""Earthing: its Terms, sources, tables and formulas."""
