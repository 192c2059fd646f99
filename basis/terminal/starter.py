"""A project folder for a beginner, one file a chapter, with what stands beside it; and a further chapter for a project that is there.

Nothing that somebody wrote is written over: `add` puts one word into the list of chapters and leaves all else as it is.
"""

from __future__ import annotations

import json
import re
from contextlib import suppress
from pathlib import Path

from basis.chapters import catalogue
from basis.guessing.draft import Draft
from basis.language import units
from basis.language.faults import Fault, Faults, nearest_name
from basis.language.terms import lists_by_key, terms
from basis.language.words import item_words
from basis.reading import schema
from basis.reading.folder import Folder, project_files
from basis.reading.project import read
from basis.reading.yaml_nodes import Node, read_nodes
from basis.site.settings_file import packaged
from basis.solving.asked import CURRENCY, asked_in
from basis.terminal import yaml_text
from basis.terminal.chapter_list import with_chapter
from basis.terminal.json_schema import json_schema
from basis.terminal.starter_file import SCHEMA_LINE, StarterFile
from basis.terminal.yaml_text import commented, key_lines, prose

SCHEMA_FILE = "project.schema.json"  # in the folder of the project folders: what SCHEMA_LINE binds
IGNORED = "# What builds make.\n/site/\n.site*/\n__pycache__/\n"


def write_starter(projects: Path, slug: str, chapters: tuple[str, ...] = (), draft: Draft | None = None) -> list[Path]:
    """Write projects/<slug>/*.yaml, of all chapters or of these, with the values of a draft, and what stands beside the projects and is not there yet.

    Returns the paths. Raises Faults as new_folder does.
    """
    folder = new_folder(projects, slug, chapters)
    folder.mkdir(parents=True)
    written = [_written(folder / name, text) for name, text in starter_files(slug, chapters, draft).items()]
    written.append(_written(projects / SCHEMA_FILE, json.dumps(json_schema(catalogue()), ensure_ascii=False) + "\n"))
    team = projects.absolute().parent
    beside = {team / ".gitignore": IGNORED, team / "mkdocs.yml": _settings(projects.absolute().name)}
    return [*written, *(_written(path, text) for path, text in beside.items() if not path.exists())]


def new_folder(projects: Path, slug: str, chapters: tuple[str, ...] = ()) -> Path:
    """The folder that a new project may have. Raises Faults for a bad name, a folder that is there already, or a chapter that is none."""
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug):
        plain = re.sub(r"[^a-z0-9]+", "-", slug.lower()).strip("-")
        raise Faults([Fault("new", 0, f"'{slug}' is no name for a folder", "small letters, digits and hyphens", plain)])
    _known(chapters)
    folder = projects / slug
    if folder.exists():
        raise Faults([Fault(folder.as_posix(), 0, "is there already", "a new name")])
    return folder


def _written(path: Path, text: str) -> Path:
    path.write_text(text, "utf-8")
    return path


def _settings(projects: str) -> str:
    """A mkdocs.yml with which plain MkDocs builds the same book: the packaged one, for this folder of projects."""
    text = packaged().read_text("utf-8")
    return "# For plain `mkdocs build` and `mkdocs serve`; `basis build` uses it too.\n" + re.sub(r"(?m)^docs_dir: .*$", f"docs_dir: {projects}", text)


def _known(chapters: tuple[str, ...]) -> None:
    known = [chapter.id for chapter in catalogue().chapters]
    if unknown := [name for name in chapters if name not in known]:
        raise Faults([Fault("chapters", 0, f"no chapter '{name}'", ", ".join(known), nearest_name(name, known)) for name in unknown])


def starter_files(slug: str, chapters: tuple[str, ...] = (), draft: Draft | None = None) -> dict[str, str]:
    """File name -> text, of a book of these chapters or of all."""
    draft = draft or Draft()
    book = tuple(chapter.id for chapter in catalogue().chapters if not chapters or chapter.id in chapters)
    files = {"project.yaml": _project_text(slug, book, draft)}
    titles = {chapter.id: chapter.title for chapter in catalogue().chapters}
    for chapter in book:
        file = StarterFile(chapter, titles[chapter], book, draft, titles)
        if file.terms:
            files[f"{chapter}.yaml"] = file.text()
    return files | {name: text for name, text in draft.files.items() if any(name in said for said in files.values())}


def _project_text(slug: str, book: tuple[str, ...], draft: Draft) -> str:
    """The keys of the project as a whole, each with its meaning, from the tables of what a project may hold."""
    given = {"name": slug.replace("-", " ").capitalize(), "chapters": f"[{', '.join(book)}]", **draft.project}
    value = schema.VALUE.by_key
    said = yaml_text.flow({"value": value["value"].example, "note": value["note"].example, "standing": value["standing"].example})
    lines = [SCHEMA_LINE, "# The project as a whole. Every other file of this folder holds one subject.", "#",
             f"# A value is written `key: {value['value'].example}`, or with more said about it:", f"# `key: {said}`"]
    lines += [line for key in ("standing", "source", "plus_minus") for line in
              prose(f"{key}: {value[key].meaning}" + (f" One of {', '.join(value[key].words)}." if value[key].words else ""))]
    lines += ["#", "# A line that begins with #key is not in force: take its # away to use it.", ""]
    for one in schema.PROJECT.fields:
        if one.key != "decisions":  # they stand, written out, with the chapters
            key = key_lines(one.key, given[one.key]) if one.key in given else commented(_sample(one, book))
            lines += [*prose(f"{item_words(one.key).capitalize()}: {one.meaning}"), *key, ""]
    return "\n".join(lines).rstrip() + "\n"


def _sample(one: schema.Field, book: tuple[str, ...]) -> list[str]:
    """A key of the project as it may stand: a row for a list, a text for a check, else its example."""
    check = next((check.id for chapter in book for check in catalogue().checks[chapter] if not check.self_test), "")
    real = {"check": check, "about": check, "chapter": book[0]}
    if one.kind == "list" and one.of:
        asked = [field for field in one.of.fields if field.required or field.key in ("edition", "clause", "check")]
        return [f"{one.key}:", *yaml_text.row({field.key: real.get(field.key) or field.example for field in asked})]
    return [f"{one.key}:", f"  {check}: {schema.REMARK.example}"] if one.kind == "keys" else [f"{one.key}: {one.example}"]


def add_chapter(folder: Path, chapter: str) -> list[str]:
    """Add a chapter to the project in a folder: its file, unless there is one, and its id in the list of chapters. Returns what was done, in words.

    Raises Faults for a chapter that is none, or text that is no YAML.
    """
    _known((chapter,))
    roots, faults = {}, []
    for path in project_files(Folder(folder, folder.as_posix()), faults):
        roots[path] = read_nodes(path, path.as_posix(), faults)
    if faults:
        raise Faults(faults)
    listed_in = next((path for path, root in roots.items() if "chapters" in dict(root.data)), None)
    have = tuple(entry.data for entry in dict(roots[listed_in].data)["chapters"].data) if listed_in else ()
    if listed_in is None or chapter in have:
        return [f"The book has the chapter '{chapter}' already{'' if listed_in else ': without a list of chapters it has all'}."]
    text = with_chapter(listed_in.read_text("utf-8"), chapter)
    added = _added(folder, chapter, have, list(roots.values()))  # first: a list that names a chapter without its file would not be added to again
    listed_in.write_text(text, "utf-8")
    return [f"{listed_in.as_posix()}: {chapter} is among the chapters now", *added]


def _added(folder: Path, chapter: str, have: tuple[str, ...], roots: list[Node]) -> list[str]:
    book = tuple(one.id for one in catalogue().chapters if one.id in (*have, chapter))
    before, now = asked_in(have), asked_in(book)
    there, items = _stated(roots)
    with suppress(Faults):  # of a text that is not finished yet, what stands in its own files is known, and no data sheet
        there |= {key: Path(given.file).name for key, given in read(folder).givens.items()}
    asked = [name for name in now if name not in before or now[name] == chapter]
    titles = {one.id: one.title for one in catalogue().chapters}
    given = {key: place for key, place in there.items() if key[0] in asked}
    file = StarterFile(chapter, titles[chapter], book, Draft(currency=_currency(roots), items=items), titles, given, frozenset(asked))
    path = folder / f"{chapter}.yaml"
    if path.exists():
        return [f"{path.as_posix()} is there already and was left as it is"]
    return [_written(path, file.text()).as_posix(), f"Fill in the keys, then: basis check {folder.name}"] if asked else []


def _currency(roots: list[Node]) -> str:
    """That of the project's prices, where it names one already."""
    named = (node.data.strip() for root in roots for key, node in root.data if key == CURRENCY and node.kind == "scalar")
    return next((currency for currency in named if currency in units.CURRENCIES), Draft.currency)


def _stated(roots: list[Node]) -> tuple[dict, dict]:
    """(Term id, item id) -> file of every key that stands, and the items of every list with the names that they still need: none where one stands."""
    there, items = {}, {}
    for root in roots:
        for key, node in root.data:
            if key in terms():
                there[key, ""] = Path(node.file).name
            elif key in lists_by_key() and node.kind == "sequence":
                for entry in node.data:
                    parts = dict(entry.data) if entry.kind == "mapping" else {}
                    if "id" in parts and parts["id"].kind == "scalar":
                        item = parts["id"].data
                        named = items.setdefault(lists_by_key()[key].axis, {})
                        named[item] = "" if "name" in parts else named.get(item, item.replace("_", " "))
                        there.update({(name, item): Path(part.file).name for name, part in parts.items()})
    return there, items
