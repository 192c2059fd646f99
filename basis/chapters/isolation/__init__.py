"""Vibration isolation: its Terms, sources, tables and formulas."""
