"""What requirements and questions name: that each check, value, element, chapter and code is there, and the chapter to which it belongs."""

from __future__ import annotations

from collections.abc import Iterator

from basis.chapters import Catalogue
from basis.chapters import catalogue as all_chapters
from basis.language.faults import Fault, find_command, nearest_name
from basis.language.terms import homes, list_key, listed, terms
from basis.reading.project import Project
from basis.reading.register import Question, Requirement
from basis.reading.schema import ITEM_ID


def unknown_names(project: Project, catalogue: Catalogue) -> list[Fault]:
    """A Fault for each thing that a requirement or a question names and that is not there. What another option or chapter has is there."""
    whole = (all_chapters(), catalogue)  # a book of few chapters may be solved alone; what the others hold is there all the same
    checks = {check.id for some in whole for group in some.checks.values() for check in group if not check.self_test}
    chapters = list(dict.fromkeys(chapter.id for some in whole for chapter in some.chapters))
    found = []
    for one in project.requirements:
        asked = f"requirement '{one.id}'"
        if one.check and one.check not in checks:
            found.append(_fault(one, "check", f"{asked} is answered by unknown check '{one.check}'", "the id of a check", nearest_name(one.check, checks)))
        if one.chapter and one.chapter not in chapters:
            found.append(_fault(one, "chapter", f"{asked} is answered by unknown chapter '{one.chapter}'", "the id of a chapter",
                                nearest_name(one.chapter, chapters)))
        found += [_fault(one, "value", f"{asked} is answered by {what}", *rest) for what, *rest in _unknown_value(one.value, project)]
        found += _unknown_code(one, project)
    for one in project.questions:
        if one.about not in checks:
            found += [_fault(one, "about", f"question '{one.id}' is about {what}", *rest) for what, *rest in _unknown_value(one.about, project, checks)]
    return found


def _fault(one: Requirement | Question, key: str, what: str, expected: str, nearest: str = "") -> Fault:
    return Fault(one.file, one.lines[key], what, expected, nearest, find_command(getattr(one, key).partition(".")[0]))


def _unknown_value(value_id: str, project: Project, checks: set = frozenset()) -> Iterator[tuple[str, str, str]]:
    """What is wrong with the id of a value or element, what was expected, the nearest; nothing if it is there. `checks`: what it might have been too."""
    term_id, *ids = value_id.split(".")
    term = terms().get(term_id)
    if not value_id:
        return
    if term is None:
        kind = "value or check" if checks else "value"
        yield f"unknown {kind} '{value_id}'", f"the id of a {kind}", nearest_name(term_id, [*terms(), *checks])
    elif ids and len(ids) != len(term.axes):
        over = ".".join((term_id, *(f"<{axis}>" for axis in term.axes)))
        yield f"unknown element '{value_id}'", f"{term_id}, or one element, {over}" if term.axes else term_id, term_id
    else:
        for axis, item in zip(term.axes, ids):
            known = _items(axis, project)
            if item not in known:
                yield f"'{value_id}', and '{item}' is not there", f"an id of {list_key(axis)}", nearest_name(item, known)


def _items(axis: str, project: Project) -> tuple[str, ...]:
    """Ids along an axis, those of every option too."""
    if fixed := listed(axis).fixed:
        return fixed
    options = [option for decision in project.decisions for option in decision.options]
    return (*project.items.get(axis, ()), *(item for option in options for item in option.items.get(axis, ())))


def _unknown_code(one: Requirement, project: Project) -> Iterator[Fault]:
    """A code written as an id must be among the project's codes; a title in words may be any."""
    known = _items("code", project)
    if ITEM_ID.fullmatch(one.code) and one.code not in known:
        yield _fault(one, "code", f"requirement '{one.id}' is of unknown code '{one.code}'", "an id of codes, or a title with a capital letter",
                     nearest_name(one.code, known))


def chapter_of(name: str) -> str:
    """Id of the chapter to which a check, a value or an element belongs."""
    term_id = name.partition(".")[0]
    return all_chapters().chapter_of.get(term_id) or homes()[term_id]
