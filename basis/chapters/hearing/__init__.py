"""Noise to people in the plant: its Terms, sources, tables and formulas."""
