"""Run the parts named on the command line, or all."""

from __future__ import annotations

import sys

from basis.benchmark.formulas import bench_formulas
from basis.benchmark.site import bench_serve, bench_site
from basis.benchmark.year import bench_year

PARTS = {"formulas": bench_formulas, "year": bench_year, "serve": bench_serve, "site": bench_site}


def main(wanted: list[str]) -> None:
    """Print one table. Exits with the names of the parts when one is unknown."""
    if unknown := set(wanted) - set(PARTS):
        raise SystemExit(f"no part {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    print("| what | result | against |\n| --- | --- | --- |")
    for name, part in PARTS.items():
        if not wanted or name in wanted:
            part()


if __name__ == "__main__":
    main(sys.argv[1:])
