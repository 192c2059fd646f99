"""A project folder for a beginner: one file a chapter, each key with its unit and meaning, nothing to look up elsewhere."""

from __future__ import annotations

import re
import textwrap
from dataclasses import replace
from pathlib import Path

from basis.chapters import Catalogue
from basis.chapters import catalogue as all_chapters
from basis.language.faults import Fault, Faults, nearest_name
from basis.language.terms import Term, homes, listed, terms
from basis.reading.givens import word_wanted

WIDTH = 110


def write_starter(projects: Path, slug: str, chapters: tuple[str, ...] = ()) -> list[Path]:
    """Write projects/<slug>/*.yaml, of all chapters or of these, and return the paths. Raises Faults for a bad name, a folder that is there already,
    or a chapter that is none.
    """
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug):
        plain = re.sub(r"[^a-z0-9]+", "-", slug.lower()).strip("-")
        raise Faults([Fault("new", 0, f"'{slug}' is no name for a folder", "small letters, digits and hyphens", plain)])
    catalogue = _only(all_chapters(), chapters)
    folder = projects / slug
    if folder.exists():
        raise Faults([Fault(folder.as_posix(), 0, "is there already", "a new name")])
    folder.mkdir(parents=True)
    written = []
    for name, text in starter_files(slug, catalogue).items():
        (folder / name).write_text(text, "utf-8")
        written.append(folder / name)
    return written


def _only(catalogue: Catalogue, wanted: tuple[str, ...]) -> Catalogue:
    """The catalogue with these chapters alone; without any, all."""
    known = [chapter.id for chapter in catalogue.chapters]
    if unknown := [name for name in wanted if name not in known]:
        raise Faults([Fault("new", 0, f"no chapter '{name}'", ", ".join(known), nearest_name(name, known)) for name in unknown])
    return replace(catalogue, chapters=tuple(chapter for chapter in catalogue.chapters if not wanted or chapter.id in wanted))


def starter_files(slug: str, catalogue: Catalogue) -> dict[str, str]:
    """File name -> text."""
    files = {"project.yaml": _project_text(slug, catalogue)}
    inputs = input_terms(catalogue)
    for chapter in catalogue.chapters:
        own = [term for term in inputs if homes()[term.id] == chapter.id]
        if own:
            files[f"{chapter.id}.yaml"] = _chapter_text(chapter.title, own)
    return files


def input_terms(catalogue: Catalogue) -> list[Term]:
    """Terms that a project may or must give, in the order in which they are listed."""
    used = {name for producer in catalogue.producers.values() for name in producer.parameters}
    used |= {name for checks in catalogue.checks.values() for check in checks for name in (check.value, check.limit)}
    return [term for term in terms().values() if not term.constant and (term.either
        or (term.id not in catalogue.producers and (term.id in used or term.is_text)))]


def _project_text(slug: str, catalogue: Catalogue) -> str:
    chapters = ", ".join(chapter.id for chapter in catalogue.chapters)
    return (f"# The project as a whole. Every other file of this folder holds one subject.\n"
            f"# A value is written `key: 12.5 m^3/s`, or with more said about it:\n"
            f"#   key: {{value: 12.5 m^3/s, note: \"where it is from\", standing: assumed}}\n"
            f"# standing is stated (left out), assumed (somebody still has to confirm it) or measured.\n"
            f"# Keys behind a # are optional or have a default; take the # away to give your own.\n\n"
            f"name: {slug.replace('-', ' ').capitalize()}\n\n"
            f"# Chapters of the book; leave out what the plant does not need.\nchapters: [{chapters}]\n\n"
            f"# A check that fails or is tight may be explained:\n# remarks:\n#   check_id: \"why, and what is done about it\"\n\n"
            f"# What the plant has to answer, in your own words, and the check (or value, chapter, statement) that answers it:\n# requirements:\n"
            f"#   - {{id: R-01, code: Title of the code, edition: \"2022\", clause: \"5.1\", text: \"What it asks.\", check: check_id}}\n\n"
            f"# What somebody asks about a value or a check; the state is open, answered (with an answer) or withdrawn:\n# questions:\n"
            f"#   - {{id: Q-01, date: 2026-11-20, role: electrical inspector, about: check_id, text: \"What is asked.\", state: open}}\n")


def _chapter_text(title: str, own: list[Term]) -> str:
    lines = [f"# {title}", ""]
    for term in own:
        if not term.own_axes:
            lines += _key_lines(term, "")
    for axis in dict.fromkeys(term.axes[0] for term in own if term.axes and not listed(term.axes[0]).fixed):
        lines += ["", f"# One entry for each {axis.replace('_', ' ')}; copy the block as often as needed.", f"# {listed(axis).key}:", f"#   - id: {axis}_1"]
        lines += [f"# {line}" for term in own if term.axes[:1] == (axis,) for line in _key_lines(term, "    ", item=True)]
    return "\n".join(lines).rstrip() + "\n"


def _key_lines(term: Term, indent: str, item: bool = False) -> list[str]:
    needed = term.default is None and not term.optional and not term.either
    meaning = f"{term.name}: {term.meaning}" if term.meaning else term.name
    comment = textwrap.wrap(meaning, WIDTH, initial_indent=f"{indent}# ", subsequent_indent=f"{indent}#   ")
    sample = f"{term.id}: {f'[{term.default}]' if term.default and term.fixed_axis else term.default or ''}".rstrip()
    key = f"{indent}{'' if needed or item else '# '}{sample}"
    word = "" if needed else "  # default" if term.default else "  # normally computed" if term.either else "  # optional"
    return [*comment, f"{key}  # {_kind_of_value(term)}" if needed else f"{key}{word}, {_kind_of_value(term)}"]


def _kind_of_value(term: Term) -> str:
    if term.is_text or term.unit == "reference" or term.fixed_axis == "hour":
        return word_wanted(term)
    unit = term.si_unit if term.si_unit != "1" else "a plain number"
    return " or ".join(dict.fromkeys((unit, term.us_unit if term.us_unit != "1" else unit)))
