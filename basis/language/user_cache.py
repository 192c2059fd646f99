"""What runs keep for later runs in the user's cache folder: plain data, by the digest of all that it was made from.

Packed JSON with a seal: a file that is damaged, that is kept under another name, or that others could have written is not read, and nothing that is read can
run. Two runs may write at once: each writes aside and renames. Where nothing can be kept, all is made anew, and nobody is told.
"""

from __future__ import annotations

import json
import os
import stat
import sys
import zlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from functools import lru_cache
from hashlib import blake2b
from importlib.util import find_spec
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")
OFF = "BASIS_NO_CACHE"  # set to anything, nothing is kept or read
LARGEST = 200_000_000  # bytes of all that is kept; what was not asked for longest goes first
FASTEST = 1  # of zlib: a book becomes a fifth of its size in a twentieth of a second
PROGRAM = Path(__file__).parent.parent
DECISIVE = (".py", ".yaml", ".csv")  # endings of the program's files that decide what it makes
TEXTS = (".yaml", ".yml", ".csv", ".j2")  # of those of users
OTHERS = 0o022  # the bits of a mode that let others write


def recall(name: str, key: str):
    """What was kept under a name for what has this digest; None where nothing sound is."""
    path = _path(name, key)
    try:
        if path is None or not _trusted(path.parent.stat()):
            return None
        with path.open("rb") as file:
            seal, _, packed = file.read().partition(b"\n")
            sound = _trusted(os.fstat(file.fileno())) and seal == _seal(path, packed)
            found = json.loads(zlib.decompress(packed)) if sound else None
        _touch(path)
        return found
    except (OSError, ValueError):
        return None


def keep(name: str, key: str, data) -> None:
    """Keep plain data under a name for what has this digest."""
    path = _path(name, key)
    if path is None:
        return
    packed = zlib.compress(json.dumps(data, separators=(",", ":"), ensure_ascii=False).encode("utf-8", "surrogatepass"), FASTEST)
    aside = path.with_name(f"{path.name}.{os.getpid()}")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not _trusted(path.parent.stat()):
            return
        with aside.open("xb") as file:
            file.write(_seal(path, packed) + b"\n" + packed)
        os.replace(aside, path)
        _sweep(path.parent)
    except OSError:  # no room, no right to write
        with suppress(OSError):
            aside.unlink()


def recall_of_program(name: str):
    """What was kept that rests on the program alone; None where nothing sound is."""
    return recall(name, program())


def keep_of_program(name: str, data) -> None:
    """Keep what rests on the program alone, unless somebody has changed its files while it ran."""
    if digest_of_program() == program():
        keep(name, program(), data)


def of_program(name: str, make: Callable[[], T]) -> T:
    """Plain data that rest on the program alone, as an earlier run kept them or made now."""
    kept = recall_of_program(name)
    if kept is None:
        kept = make()
        keep_of_program(name, kept)
    return kept


@lru_cache(maxsize=1)
def program() -> str:
    """Digest of the program that runs: its files as they were when this was first asked, the Python and the libraries beside it."""
    return digest_of_program()


def digest_of_program() -> str:
    """The same of the files as they are now."""
    beside = Path(next(iter(find_spec("numpy").submodule_search_locations))).parent
    installed = sorted(name for name in os.listdir(beside) if name.endswith(".dist-info"))
    return digest_of_files(repr((sys.version, installed)), _files_of_program())


def digest_of_files(beside: str, files: Iterable[tuple[str, bytes]]) -> str:
    """One digest of a text and of files, each by name and content, in order."""
    total = blake2b(beside.encode("utf-8", "surrogatepass"), digest_size=16)
    for name, content in files:
        total.update(f"\0{name}\0{len(content)}\0".encode("utf-8", "surrogatepass") + content)
    return total.hexdigest()


def digest_of_paths(paths: Iterable[Path]) -> str:
    """One digest of names and contents of files; of a file that is no text of ours, and may be large, its size and time."""
    return digest_of_files("", ((path.name, _content(path)) for path in paths))


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes() if path.suffix in TEXTS else repr((path.stat().st_size, path.stat().st_mtime_ns)).encode()
    except OSError as refused:
        return str(refused).encode()  # whoever reads it in earnest tells why


def _files_of_program() -> Iterator[tuple[str, bytes]]:
    for folder, folders, files in os.walk(PROGRAM):
        folders.sort()
        for file in sorted(files):
            if file.endswith(DECISIVE):
                path = os.path.join(folder, file)
                with open(path, "rb") as opened:
                    yield path[len(str(PROGRAM)):], opened.read()


def folder() -> Path | None:
    """Where this user's programs keep what can be made again; None where there is no such place, or the user wants nothing kept."""
    if os.environ.get(OFF):
        return None
    usual = {"win32": ("LOCALAPPDATA", "AppData/Local"), "darwin": ("", "Library/Caches")}
    variable, below_home = usual.get(sys.platform, ("XDG_CACHE_HOME", ".cache"))
    told = os.environ.get(variable, "")
    try:
        return (Path(told) if os.path.isabs(told) else Path.home() / below_home) / "design-basis-book"
    except RuntimeError:  # a user without a home
        return None


def _path(name: str, key: str) -> Path | None:
    return None if (place := folder()) is None else place / f"{name}-{key}.kept"


def _trusted(found: os.stat_result) -> bool:
    """Whether nobody but the user can have written it; where the system has no owners the profile folder is the user's."""
    return not hasattr(os, "getuid") or found.st_uid == os.getuid() and not stat.S_IMODE(found.st_mode) & OTHERS


def _touch(path: Path) -> None:
    """Note that it was asked for."""
    with suppress(OSError):  # it may be read without being ours to change
        os.utime(path)


def _seal(path: Path, packed: bytes) -> bytes:
    return blake2b(path.name.encode() + b"\0" + packed, digest_size=16).hexdigest().encode()


def _sweep(place: Path) -> None:
    """Away with what was not asked for longest, until the rest is not too large."""
    found = sorted(((entry.stat().st_mtime_ns, entry.stat().st_size, entry.path) for entry in os.scandir(place)), reverse=True)
    size = 0
    for _, bytes_of_it, path in found:
        size += bytes_of_it
        if size > LARGEST:
            os.unlink(path)
