"""The folder of the finished site: which folder a build may replace, and how it takes its place so that a kill at any moment loses nothing.

A folder of ours is known by a mark, which lists every file that was put into it.
"""
from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from basis.language.faults import Fault, Faults

try:
    import fcntl
except ImportError:  # Windows: two builds at once are not noticed there
    fcntl = None

MARK = ".made-by-basis"
HEAD = "# What `basis build` put here. It replaces this folder as long as the folder holds nothing else."
LITTER = frozenset((".DS_Store", "Thumbs.db", "desktop.ini"))  # what a system puts into each folder that somebody opens
OF_ITS_OWN = "a folder of its own, such as site"
MOVE_AWAY = "an absent or empty folder, or a book of this program; move away what is yours, or name another folder"


def refusals(site: Path, sources: Iterable[Path]) -> list[Fault]:
    """Why a build must not empty or replace the folder `site`; nothing when it may. It must neither be, hold nor lie in `sources`, which are read.

    Links are followed first. An absent or empty folder may be used, and one with our mark that holds nothing but what we put there.
    """
    place, shown = _real(site), site.as_posix()
    if _within(Path.cwd(), place):
        return [Fault(shown, 0, "the site would be or hold the current folder", OF_ITS_OWN)]
    for source in sources:
        if _within(place, _real(source)) or _within(_real(source), place):
            return [Fault(shown, 0, f"the site would be, hold or lie in {source.as_posix()}, which the book is made from", OF_ITS_OWN)]
    if book := next((parent for parent in place.parents if (parent / MARK).is_file()), None):
        return [Fault(shown, 0, f"the site would lie in the book {book.as_posix()}, which its next build replaces", "a folder beside it")]
    if place.exists() and not place.is_dir():
        return [Fault(shown, 0, "is a file", "a folder for the site")]
    return _foreign(place, shown)


def _real(path: Path) -> Path:
    """Where links lead; of a loop of links the loop, which the system refuses later."""
    return Path(os.path.realpath(path))


def _within(inner: Path, outer: Path) -> bool:
    """Whether one folder is or lies in the other: by name, and by the folder itself where the system knows it by several."""
    return any(one == outer or (one.exists() and outer.exists() and one.samefile(outer)) for one in (inner, *inner.parents))


def _foreign(place: Path, shown: str) -> list[Fault]:
    """What lies in the folder and is not ours."""
    found = _contents(place) if place.is_dir() else []
    if not found:
        return []
    if not (place / MARK).is_file():
        return [Fault(shown, 0, f"holds files and no {MARK}: this program did not make it, or an early version did", f"{MOVE_AWAY} (delete an old book once)")]
    listed = [line for line in (place / MARK).read_text("utf-8", errors="replace").splitlines() if line and not line.startswith("#")]
    own = set(listed or found)  # a build that was cut short has listed nothing
    return [Fault(f"{shown}/{name}", 0, "was not put there by this program and would be lost", MOVE_AWAY) for name in found if name not in own][:5]


def _contents(place: Path) -> list[str]:
    """Files and links of a folder, without the mark."""
    every = (path for path in place.rglob("*") if path.is_symlink() or not path.is_dir())
    return sorted(path.relative_to(place).as_posix() for path in every if path.name not in LITTER and path != place / MARK)


def begin(place: Path) -> None:
    """Mark a folder as ours before anything is put into it: all that it will hold comes from us."""
    place.mkdir(parents=True, exist_ok=True)
    (place / MARK).write_text(HEAD + "\n", "utf-8")


def finish(place: Path) -> None:
    """Write down what the finished folder holds."""
    (place / MARK).write_text("\n".join([HEAD, *_contents(place), ""]), "utf-8")


@contextmanager
def replaced(site: Path) -> Iterator[Path]:
    """A new folder beside `site`, which takes its place when the body ends well. Raises Faults while another build is at work.

    A kill leaves the last good site, if only under its other name: the next build puts it back and sweeps the rest.
    """
    place = _real(site)
    place.parent.mkdir(parents=True, exist_ok=True)
    with _alone(place):
        _tidy(place)
        new = _beside(place, "new")
        try:
            begin(new)
            yield new
            if place.exists():
                place.rename(_beside(place, "old"))
            new.rename(place)
        finally:
            _tidy(place)


def _beside(place: Path, what: str) -> Path:
    return place.with_name(f".{place.name}-{what}")


def _tidy(place: Path) -> None:
    """Put the last good site back where a build was stopped between two renames, and sweep what it left."""
    new, old = _beside(place, "new"), _beside(place, "old")
    if wrong := [folder for folder in (new, old) if folder.exists() and not (folder / MARK).is_file() and _contents(folder)]:
        raise Faults([Fault(folder.as_posix(), 0, "stands where a build does its work, and this program did not make it", MOVE_AWAY) for folder in wrong])
    if old.exists() and not place.exists():
        old.rename(place)
    for folder in (new, old):
        if folder.exists():
            _remove(folder)


def _remove(folder: Path) -> None:
    """Remove a folder of ours, its mark last, so that what a kill leaves of it is still known as ours."""
    for entry in folder.iterdir():
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        elif entry.name != MARK:
            entry.unlink()
    (folder / MARK).unlink(missing_ok=True)
    folder.rmdir()


@contextmanager
def _alone(place: Path) -> Iterator[None]:
    """Alone with this site; the system lets go of the lock when a process dies. Raises Faults when another build has it."""
    path = _beside(place, "lock")
    with _locked(path):
        try:
            yield
        finally:
            path.unlink()


def _locked(path: Path) -> IO:
    """The lock file, open and locked. A lock of this kind does not pass to copies of the process, which may outlive it for a while."""
    while True:
        handle = path.open("a")
        try:
            if fcntl:
                fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            handle.close()
            raise Faults([Fault(path.as_posix(), 0, "another build of this site is at work", "one at a time; try again when it has ended")]) from None
        if path.exists() and os.path.samestat(os.fstat(handle.fileno()), path.stat()):
            return handle
        handle.close()  # whoever had it removed it just now
