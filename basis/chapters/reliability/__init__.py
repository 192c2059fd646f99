"""Reliability: its Terms, sources, tables and formulas."""
