"""`python -m basis`."""

from basis.cli import main

main(prog_name="python -m basis")
