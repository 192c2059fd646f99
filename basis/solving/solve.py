"""Solve a project: each of its options in turn, as a Book with the trace.

What is missing is a fault when it is required, and makes a value undecided when it is optional; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from basis.chapters import Catalogue
from basis.chapters import catalogue as all_chapters
from basis.language.compiled import Memory
from basis.language.faults import Fault, Faults, find_command, nearest_name
from basis.reading.project import Project, read
from basis.solving.after_save import option_as_before
from basis.solving.binding import Solved, book_of
from basis.solving.book import Book
from basis.solving.case import Case
from basis.solving.chances import with_chances
from basis.solving.named import unknown_names
from basis.solving.trials import trial_faults


def load(folder) -> Book:
    """Read and solve one project folder. Raises Faults."""
    return solve(read(folder))


@dataclass(frozen=True)
class Solution:
    """A solved project with what the solving after the next save takes over."""

    book: Book
    bare: Book  # without chances and options
    run: Solved
    memory: Memory

    def __reduce__(self):
        """It does not go from one process to another: formulas are known by the objects that they are."""
        return type(None), ()


def solve(project: Project, catalogue: Catalogue | None = None, only: Collection[tuple[str, str]] | None = None) -> Book:
    """Solve the project with its chosen options, and beside it every other option, or `only` these. Raises Faults of all of them."""
    return solution(project, catalogue, only=only).book


def solution(project: Project, catalogue: Catalogue | None = None, before: Solution | None = None,
             only: Collection[tuple[str, str]] | None = None) -> Solution:
    """Solve the project; what has not moved since `before` is taken from there. `only`: the options, by decision and id, that are solved beside the chosen
    ones; all without it. Raises Faults of all options that are solved.

    Where the chosen options cannot be computed, the others are put in order only: what is missing in them is told, and no fault many times.
    """
    catalogue = catalogue or all_chapters()
    faults = _project_faults(project, catalogue)
    if project.chapters and not any(chapter.id in project.chapters for chapter in catalogue.chapters):
        raise Faults(faults)  # a book of no chapter: nothing else can be said of it
    chosen = {decision.id: decision.chosen for decision in project.decisions}
    books: dict[tuple, Book] = {}
    memory, arrays = before.memory.of_next_save() if before else Memory(), {}
    if before and (before.book.project.chapters != project.chapters or before.run.catalogue is not catalogue):
        before = None
    run, main = _attempt(Case(project, catalogue, chosen, memory, arrays, before=before.run if before else None), before.bare if before else None, faults, "")
    faults += trial_faults(run) if run else []
    for decision in project.decisions:
        for option in decision.options:
            key = decision.id, option.id
            if option.id == decision.chosen:
                books[key] = main
            elif only is not None and key not in only:
                continue
            elif before and main and (book := option_as_before(key, before.book, before.bare, main)):
                books[key] = book
            else:
                case = Case(project, catalogue, {**chosen, decision.id: option.id}, memory, arrays, run, order_only=main is None)
                _, books[key] = _attempt(case, main, faults, f" (in option '{option.id}')")
    if faults:
        raise Faults(faults)
    return Solution(replace(with_chances(main, before.book if before else None), options=books), main, run, memory)


def _project_faults(project: Project, catalogue: Catalogue) -> list[Fault]:
    known = [chapter.id for chapter in catalogue.chapters]
    nowhere = (f"{project.folder}/project.yaml", 0)
    found = [Fault(*project.chapter_places.get(name, nowhere), f"unknown chapter '{name}'", ", ".join(known), nearest_name(name, known))
             for name in project.chapters if name not in known]
    checks = {check.id for group in catalogue.checks.values() for check in group}
    found += [Fault(place[1], place[2], f"remark on unknown check '{check_id}'", "the id of a check, as `basis check --json` lists them without this remark",
                    nearest_name(check_id, checks), find_command(check_id))
              for check_id, place in project.remarks.items() if check_id not in checks]
    return found + unknown_names(project, catalogue)


def _attempt(case: Case, chosen: Book | None, faults: list, where: str) -> tuple[Solved | None, Book | None]:
    """Run a case and make its book; its faults are added to `faults`, unless they are there already."""
    try:
        run = case.solved()
        return run, book_of(run, chosen)
    except Faults as found:
        known = set(faults)
        faults += [fault if not where else replace(fault, what=fault.what + where) for fault in found.faults if fault not in known]
        return None, None
