"""Voltage and frequency at load steps: its Terms, sources, tables and formulas."""
