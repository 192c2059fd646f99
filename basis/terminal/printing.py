"""Printing a book: one document through a browser without a window, its contents filled in from where its parts came to stand, put in place whole."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from pypdf import PdfReader

from basis.language.faults import Fault, Faults
from basis.record.history import history_of
from basis.record.marks import since
from basis.site import pages, whole_book
from basis.site.addresses import Workshop
from basis.site.render import template_folders
from basis.site.whole_book import Bound
from basis.solving.solve import load
from basis.terminal.object_streams import packed

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
OLDEST = "Chromium or another browser of its kind, 131 or later"  # the first that prints running heads
WITHOUT_A_WINDOW = ("--headless", "--disable-gpu", "--no-first-run", "--disable-extensions", "--disable-background-networking", "--disable-component-update",
                    "--no-pdf-header-footer")
FULL = ("--generate-pdf-document-outline",)
DRAFT = ("--disable-pdf-tagging",)  # to see on which page what begins: the same pages, sooner
RUNS = 3  # a draft, the book, and once more if its contents moved what follows them
PATIENCE = 1800  # seconds for one run
MARK = b"% made by basis print\n"
TAIL = 2048  # bytes at the end of a file that hold the mark
DATES = re.compile(rb"/(?:CreationDate|ModDate) \(D:[^)]*\)")


@dataclass(frozen=True)
class Wanted:
    """What is to be printed: the paper, the units, whether with the working of every value, whether with turning points."""

    paper: str = "a4"
    units: str = "si"
    sheets: bool = False
    turning: bool = True


def printed(folder: Path, to: Path, wanted: Wanted, force: bool = False) -> Path:
    """Print the book of a project as a PDF and return its path. `force`: also over a file that this program did not make.

    Raises Faults and OSError; what was there then stays.
    """
    program = _browser()
    with _aside(to, force) as aside, TemporaryDirectory(prefix="basis-print-") as place:
        _set(_bound(folder, wanted), Path(place), program)
        aside.write_bytes(_own((Path(place) / "book.pdf").read_bytes()))
    return to


def _bound(folder: Path, wanted: Wanted) -> Bound:
    book = load(folder)
    history = history_of(book)
    workshop = Workshop(turning=wanted.turning)
    ready = pages.layouts(template_folders(folder.parent))
    return whole_book.bind(replace(book, since=since(history)), ready, history, workshop, wanted.paper, wanted.sheets, wanted.units)


def _browser() -> str:
    """The first browser on the path that can print without a window."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        raise Faults([Fault("PATH", 0, "no browser that prints without a window", f"{OLDEST}, as one of {', '.join(BROWSERS)}",
                            help="basis build: each page of the site prints by itself, too")])
    return found


@contextmanager
def _aside(to: Path, force: bool) -> Iterator[Path]:
    """A file beside `to`, which takes its place when the body ends well."""
    if to.is_dir():
        raise Faults([Fault(to.as_posix(), 0, "is a folder", "the name of a PDF")])
    if to.exists() and not force and not _is_own(to):
        raise Faults([Fault(to.as_posix(), 0, "was not made by this command and would be lost", "another name by --to", help="--force")])
    aside = to.with_name(f".{to.name}-new")
    to.parent.mkdir(parents=True, exist_ok=True)
    aside.touch()  # before the work, which takes minutes
    try:
        yield aside
        aside.replace(to)
    finally:
        aside.unlink(missing_ok=True)


def _is_own(path: Path) -> bool:
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - TAIL))
        return MARK in file.read()


def _set(bound: Bound, place: Path, program: str) -> None:
    """Leave `book.pdf` in a folder, with the numbers of pages in its contents."""
    numbers: Mapping[str, int] = {}
    for run in range(RUNS):
        (place / "book.html").write_text(bound.text(numbers), "utf-8")
        _print(program, place, FULL if run else DRAFT)
        before, numbers = numbers, _begins(bound, place / "book.pdf")
        if numbers == before:
            return


def _print(program: str, place: Path, how: tuple[str, ...]) -> None:
    root = ("--no-sandbox",) if getattr(os, "geteuid", lambda: 1)() == 0 else ()  # which the browser asks of the superuser
    pdf = place / "book.pdf"
    pdf.unlink(missing_ok=True)
    command = [program, *WITHOUT_A_WINDOW, *root, *how, f"--user-data-dir={place / 'profile'}", f"--print-to-pdf={pdf}", (place / "book.html").as_uri()]
    try:
        ended = subprocess.run(command, capture_output=True, text=True, errors="replace", timeout=PATIENCE)
        told = (ended.stderr.strip().splitlines() or [f"exit code {ended.returncode}"])[-1]
    except subprocess.TimeoutExpired:
        told = f"nothing within {PATIENCE} seconds"
    if not pdf.is_file():
        raise Faults([Fault(program, 0, f"printed nothing: {told}", OLDEST)])


def _begins(bound: Bound, pdf: Path) -> dict[str, int]:
    """The page of each place that the document's lists tell, from 1."""
    reader = PdfReader(pdf)
    found = {name.removeprefix("/"): where for name, where in reader.named_destinations.items()}
    return {place: reader.get_destination_page_number(found[place]) + 1 for place in bound.places & found.keys()}


def _own(pdf: bytes) -> bytes:
    """The file with our mark, packed, and without the time at which it was made: the same text gives the same bytes."""
    body, end, rest = packed(DATES.sub(lambda found: b" " * len(found[0]), pdf)).rpartition(b"startxref")
    return body + MARK + end + rest
