"""What a command imports: what it does not use it does not load."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("pint", "scipy", "matplotlib", "mkdocs", "jinja2", "numpy", "basis.chapters")
TRY = ["try", "air_pressure", "altitude=1600 m"]


@pytest.mark.parametrize("arguments, loads", [
    (["--help"], ()),
    (["check", "--help"], ()),
    (TRY, ("numpy", "basis.chapters")),
], ids=lambda one: " ".join(one))
def test_only_what_is_used_is_imported(arguments, loads):
    code = (f"import sys; from basis.terminal.cli import main; main({arguments!r}, standalone_mode=False); "
            f"print(*(name for name in {HEAVY!r} if name in sys.modules), file=sys.stderr)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert tuple(done.stderr.split()) == loads
