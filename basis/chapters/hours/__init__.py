"""Crankcase breather and running hours: its Terms, sources, tables and formulas."""
