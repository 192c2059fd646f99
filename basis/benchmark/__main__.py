"""Run the parts named on the command line, or all."""

from __future__ import annotations

import sys
from pathlib import Path

from basis.benchmark.formulas import bench_formulas
from basis.benchmark.record import bench_record
from basis.benchmark.site import bench_serve, bench_site
from basis.benchmark.start import bench_start
from basis.benchmark.turning import bench_turning
from basis.benchmark.year import bench_year

PARTS = {"start": bench_start, "formulas": bench_formulas, "year": bench_year, "turning": bench_turning, "record": bench_record,
         "serve": bench_serve, "site": bench_site}

ELSEWHERE = {"year"}  # parts that measure no project
MEASURED = ("projects/larkmere-hospital", "templates", "mkdocs.yml")


def main(wanted: list[str]) -> None:
    """Print one table. Exits with the names of the parts when one is unknown, and where what is measured is not at hand."""
    if unknown := set(wanted) - set(PARTS):
        raise SystemExit(f"no part {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    if set(wanted or PARTS) - ELSEWHERE and (missing := [path for path in MEASURED if not Path(path).exists()]):
        raise SystemExit(f"no {' and no '.join(missing)} here; expected the folder of the program's source, whose demo projects are measured")
    print("| what | result | against |\n| --- | --- | --- |")
    for name, part in PARTS.items():
        if not wanted or name in wanted:
            part()


if __name__ == "__main__":
    main(sys.argv[1:])
