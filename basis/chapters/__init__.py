"""Chapters: a folder each, with its Terms, sources, tables and formulas. catalogue() lists the folders and collects the objects that it finds; nothing
registers itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from pathlib import Path

from basis.language.formula import Chapter, Check, Formula, Procedure, keep_formulas
from basis.language.terms import Term, terms


@dataclass(frozen=True)
class Catalogue:
    """All chapters in order, what each holds, and who yields each Term."""

    chapters: tuple[Chapter, ...]
    formulas: dict[str, tuple]  # chapter id -> formulas and procedures, as written
    checks: dict[str, tuple[Check, ...]]
    producers: dict[str, Formula | Procedure]  # term id -> who yields it
    chapter_of: dict[str, str]  # id of a formula's result or of a check -> chapter id

    @property
    def inputs(self) -> list[Term]:
        """Terms that a project may give: no constant, nor what a chapter computes, unless it may be given all the same."""
        return [term for term in terms().values() if not term.constant and (term.either or term.id not in self.producers)]


def collect(modules) -> Catalogue:
    """A Catalogue of modules that each hold a CHAPTER; a module without one adds to the chapter of its folder.

    Raises ValueError when two formulas yield one Term or two checks have one id.
    """
    chapters = {module.CHAPTER.id: module.CHAPTER for module in modules if hasattr(module, "CHAPTER")}
    formulas = dict.fromkeys(chapters, ())
    checks = dict.fromkeys(chapters, ())
    producers, chapter_of = {}, {}
    for module in modules:
        owner = _owner(module, chapters)
        own = [thing for thing in vars(module).values() if getattr(thing, "module", None) == module.__name__]
        formulas[owner] += tuple(thing for thing in own if isinstance(thing, (Formula, Procedure)))
        checks[owner] += tuple(thing for thing in own if isinstance(thing, Check))
        for thing in own:
            for name in thing.yields if isinstance(thing, (Formula, Procedure)) else (thing.id,):
                if name in chapter_of:
                    raise ValueError(f"'{name}' is yielded or checked twice, in {chapter_of[name]} and {owner}")
                chapter_of[name] = owner
                if not isinstance(thing, Check):
                    producers[name] = thing
    return Catalogue(tuple(sorted(chapters.values(), key=lambda chapter: chapter.order)), formulas, checks, producers, chapter_of)


def _owner(module, chapters: dict) -> str:
    if hasattr(module, "CHAPTER"):
        return module.CHAPTER.id
    folder = module.__name__.rsplit(".", 2)[-2]
    if folder not in chapters:
        raise ValueError(f"module '{module.__name__}' has no CHAPTER and adds to none")
    return folder


@lru_cache(maxsize=1)
def catalogue() -> Catalogue:
    """Everything in this folder."""
    found = collect([import_module(f"basis.chapters.{name}") for name in module_names()])
    keep_formulas(producer for producer in found.producers.values() if isinstance(producer, Formula))
    return found


def module_names() -> list[str]:
    """`<chapter>.<module>` of each module that may hold formulas: of each chapter first the one that describes it."""
    paths = [path for path in Path(__file__).parent.glob("*/*.py") if path.stem not in ("__init__", "terms")]
    return [f"{path.parent.name}.{path.stem}" for path in sorted(paths, key=lambda path: (path.parent.name, path.stem != "chapter", path.stem))]
