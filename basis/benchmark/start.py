"""Processor time of whole commands, each in a fresh interpreter, against importing NumPy in one."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

from basis.benchmark.measure import row

COMMAND = (sys.executable, "-m", "basis")
NUMPY = (sys.executable, "-c", "import numpy")
SLUG, VALUE = "larkmere-hospital", "ventilation_airflow"
SOLVING = f"""
import time
from pathlib import Path
from basis.chapters import catalogue
from basis.reading.project import read
from basis.solving.solve import solve
catalogue()
start = time.process_time()
solve(read(Path("projects/{SLUG}")), only=())
print(time.process_time() - start)
"""
COMMANDS = {"--help": ("--help",), "try": ("try", "air_pressure", "altitude=1600 m"), "find": ("find", "louvre", "velocity"),
            "check, text unchanged": ("check",)}


def bench_start() -> None:
    """Commands after a first run, which keeps what it has made in a cache folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        env |= {"XDG_CACHE_HOME": folder, "PYTHONPYCACHEPREFIX": str(Path(folder) / "compiled")}
        numpy = _processor_time(NUMPY, env)
        for name, arguments in COMMANDS.items():
            row(f"basis {name}", f"{_processor_time((*COMMAND, *arguments), env) / numpy:.1f} times", f"import of NumPy ({numpy * 1e3:.0f} ms)")
        solving = min(float(subprocess.run((sys.executable, "-c", SOLVING), env=env, capture_output=True, check=True).stdout) for _ in range(3))
        shown = _processor_time((*COMMAND, "show", SLUG, VALUE), env)
        row("basis show", f"{(shown - solving) / numpy:.1f} times and solving once", f"import of NumPy; the chosen options solved ({solving * 1e3:.0f} ms)")


def _processor_time(command: tuple, env: dict, runs: int = 4) -> float:
    """Least of several runs after the first, in seconds, of the process and of those that it starts."""
    found = []
    for _ in range(runs + 1):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        found.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(found[1:])
