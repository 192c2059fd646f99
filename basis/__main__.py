"""`python -m basis`."""

from basis.terminal.cli import main

main(prog_name="python -m basis")
