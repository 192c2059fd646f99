"""Benchmark: `python -m basis.benchmark [part ...]`. Prints ratios measured in one run; never a test."""
