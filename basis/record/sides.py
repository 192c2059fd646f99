"""What can be compared: an issued revision, a commit of git, the text as it stands.

The text of a commit is read from git's own objects into a folder that is thrown away; the work tree and the index are never touched.
"""

from __future__ import annotations

import os
import subprocess
from dataclasses import replace
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

import basis
from basis.language.faults import Fault, Faults, nearest_name
from basis.reading.folder import EQUIPMENT
from basis.record.issued import FOLDER, Record, records_of

SET_BY_HOOKS = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX")  # they would lead away from the folder that is asked about
FILE_MODES = (b"100644", b"100755")  # of plain files: no links, no modules


def sides_of(folder: Path, names: tuple[str, ...]) -> tuple[Record, Record]:
    """The records of two states, named as revisions or commits; the last issue where none is named, and the text as it stands for the second.

    Raises Faults: nothing is issued, a name that is neither a revision nor a commit, git is not there.
    """
    issued = records_of(folder)
    if not names and not issued:
        raise Faults([Fault(f"compare {folder.name}", 0, "nothing has been issued", "`basis issue` first, or a commit to compare with")])
    old = side(folder, names[0], issued) if names else issued[-1]
    return old, side(folder, names[1], issued) if len(names) > 1 else _solved(folder)


def side(folder: Path, name: str, issued: tuple[Record, ...]) -> Record:
    """The record of one state; a revision stands before a commit or tag of the same name."""
    found = next((record for record in issued if record.head.revision == name), None)
    return found or _committed(folder, name, [record.head.revision for record in issued])


def _solved(folder: Path) -> Record:
    from basis.record.issuing import record_of  # here, so that two issues are compared without loading what solves

    return record_of(basis.load(folder))


def _committed(folder: Path, name: str, revisions: list[str]) -> Record:
    """The record of the text at a commit, solved with this program."""
    commit = _commit(folder, name, revisions)
    inside = _git(folder, "rev-parse", "--show-prefix").decode().strip()
    short, date = _git(folder, "show", "--no-patch", "--format=%h %cs", commit).decode().split()
    shown = f"{short}:{inside}"
    with TemporaryDirectory() as place:
        at = Path(place) / "projects" / folder.absolute().name
        if not _write_out(folder, f"{commit}:{inside}", at):
            raise Faults([Fault(f"compare {folder.name}", 0, f"commit '{name}' does not hold this project", "a commit in which its folder is there")])
        above = PurePosixPath(inside).parents[1] / EQUIPMENT if len(PurePosixPath(inside).parts) > 1 else None
        if above:
            _write_out(folder, f"{commit}:{above}", Path(place) / EQUIPMENT)
        try:
            found = _solved(at)
        except Faults as wrong:
            told = Fault(f"compare {folder.name}", 0, f"the text at '{name}' is not sound for this program", "a commit whose text is, or an issued revision")
            raise Faults([told, *(replace(fault, file=_as_committed(fault.file, {at: shown, Path(place) / EQUIPMENT: f"{short}:{above}/"}))
                                   for fault in wrong.faults)]) from None
    return replace(found, head=replace(found.head, revision=name if name == short else f"{name} ({short})", date=date))


def _as_committed(file: str, places: dict[Path, str]) -> str:
    """The name of a file where it stood in the commit, by what was written out where."""
    for at, shown in places.items():
        file = file.replace(f"{at.as_posix()}/", shown)
    return file


def _commit(folder: Path, name: str, revisions: list[str]) -> str:
    """The full name of a commit. Raises Faults where there is none, or no git to ask."""
    where, known = f"compare {folder.name}", f"one of {', '.join(revisions)}" if revisions else "an issued revision, but nothing has been issued"
    try:
        inside = _asked(folder, "rev-parse", "--is-inside-work-tree")
    except FileNotFoundError:
        raise Faults([Fault(where, 0, f"'{name}' is no issued revision, and there is no git here to look for a commit", known)]) from None
    if inside.returncode:
        raise Faults([Fault(where, 0, f"'{name}' is no issued revision, and git knows no repository here: {_last_line(inside)}", known)])
    found = _asked(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    if found.returncode:
        shallow = _asked(folder, "rev-parse", "--is-shallow-repository").stdout.strip() == b"true"
        more = "; this clone is shallow, `git fetch --unshallow --tags` brings the others" if shallow else ""
        raise Faults([Fault(where, 0, f"'{name}' is neither an issued revision nor a commit or tag that git has here", f"{known}, or a commit{more}",
                            nearest_name(name, revisions))])
    return found.stdout.decode().strip()


def _write_out(folder: Path, tree: str, at: Path) -> bool:
    """The files of a folder of a commit, but not its issues; whether there are any."""
    listed = _asked(folder, "ls-tree", "-r", "-z", "--full-tree", tree)
    entries = [entry.partition(b"\t")[::2] for entry in listed.stdout.split(b"\0") if entry]
    blobs = {PurePosixPath(path.decode("utf-8", "surrogateescape")): about.split()[2] for about, path in entries if about.split()[0] in FILE_MODES}
    blobs = {path: blob for path, blob in blobs.items() if path.parts[0] != FOLDER and ".." not in path.parts and not path.is_absolute()}
    if listed.returncode or not blobs:
        return False
    data = _git(folder, "cat-file", "--batch", given=b"\n".join(blobs.values()) + b"\n")
    at.mkdir(parents=True)
    for path in blobs:
        head, _, data = data.partition(b"\n")
        size = int(head.split()[2])
        (at / path).parent.mkdir(parents=True, exist_ok=True)
        (at / path).write_bytes(data[:size])
        data = data[size + 1:]
    return True


def _git(folder: Path, *words: str, given: bytes = b"") -> bytes:
    """What git answers. Raises Faults with its own words where it refuses."""
    answer = _asked(folder, *words, given=given)
    if answer.returncode:
        raise Faults([Fault(f"git {words[0]}", 0, _last_line(answer) or "refuses", "a repository that git can read")])
    return answer.stdout


def _asked(folder: Path, *words: str, given: bytes = b"") -> subprocess.CompletedProcess:
    here = {name: text for name, text in os.environ.items() if name not in SET_BY_HOOKS}
    return subprocess.run(["git", "-C", str(folder), *words], input=given, capture_output=True, env=here)


def _last_line(answer: subprocess.CompletedProcess) -> str:
    return (answer.stderr.decode("utf-8", "replace").strip().splitlines() or [""])[-1]
