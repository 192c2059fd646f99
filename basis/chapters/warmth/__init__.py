"""Standby warmth: its Terms, sources, tables and formulas."""
