"""Noise to neighbours: its Terms, sources, tables and formulas."""
