"""Commissioning record: its Terms, sources and formulas."""
