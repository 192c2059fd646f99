"""Our own link checker: MkDocs never looks into finished HTML. Over all pages, the ids and links that stand in tags; words are words."""
from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache

from basis.language.faults import Fault, Faults

COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
TAG = re.compile(r"<[a-zA-Z][^>]*>")
PLACE = re.compile(r' (id|href|src)="([^"]*)"')  # as html.py writes attributes
SVG_ID = re.compile(r'xlink:href="#([^"]+)"|url\(#([^)]+)\)')
OUTSIDE = re.compile(r"^[a-z][a-z0-9+.-]*:|^//", re.IGNORECASE)


@dataclass(frozen=True)
class Broken:
    """One thing that is wrong on a page: its address, the id or link as it stands there, and what is wrong with it."""

    address: str
    place: str
    what: str
    expected: str = ""


class BrokenPages(Exception):
    """Pages that the program itself made wrong: a mistake in it, not in anybody's text."""


def check(pages: Mapping[str, str], files: Collection[str], written: Mapping[str, tuple[str, int]]) -> None:
    """Raise Faults for what a template has written wrong, at its file and line; BrokenPages for what this program has.

    `pages`: HTML by address. `files`: addresses of what may be linked to besides. `written`: where ids and links stand in templates.
    """
    found = broken(pages, files)
    if own := [one for one in found if one.place not in written]:
        raise BrokenPages("\n".join(f"{one.address}: {one.what}" for one in own))
    if found:
        raise Faults([Fault(*written[one.place], one.what, one.expected) for one in found])


def broken(pages: Mapping[str, str], files: Collection[str] = ()) -> list[Broken]:
    """Dead links, dead anchors, links that leave the site, and ids that stand twice, over pages by address."""
    tags = {address: _tags(html) for address, html in pages.items()}
    places = {address: _places(text) for address, text in tags.items()}
    ids = {address: Counter(name for kind, name in stand if kind == "id") for address, stand in places.items()}
    found = []
    for address, text in tags.items():
        found += [Broken(address, name, f"id '{name}' stands {count} times on the page", "one") for name, count in ids[address].items() if count > 1]
        for target in sorted({target for kind, target in places[address] if kind != "id"}):
            if wrong := _wrong(address, target, ids, files):
                found.append(wrong)
        inner = {one or other for one, other in SVG_ID.findall(text)} if "<svg" in text else set()
        found += [Broken(address, name, f"a drawing refers to #{name}, which is not there") for name in sorted(inner - set(ids[address]))]
    return found


def _wrong(address: str, target: str, ids: Mapping[str, Counter], files: Collection[str]) -> Broken | None:
    if OUTSIDE.match(target):
        return Broken(address, target, f"link to {target} leaves the site", "a page of the book")
    path, _, anchor = target.partition("#")
    page = _beside(address, path) if path else address
    if page in files and not anchor:
        return None
    if page not in ids:
        return Broken(address, target, f"dead link {target}", "a page that is built")
    if anchor and anchor not in ids[page]:
        return Broken(address, target, f"dead anchor {target}", f"an id on {page}")
    return None


def written_in(source: str, html: str) -> dict[str, int]:
    """Ids and links that a template itself writes -> the line of its text at which each is written, or 0 where its text has other words for it."""
    found = {place: re.search(rf"[\"(]{re.escape(place)}", source) for _, place in _places(_tags(html))}
    return {place: source.count("\n", 0, at.start()) + 1 if at else 0 for place, at in found.items()}


@lru_cache(maxsize=4096)
def _beside(address: str, path: str) -> str:
    """Address of a page from the way to it that stands on another."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(address), path))


@lru_cache(maxsize=256)  # pages that a save has left as they were are not read again
def _tags(html: str) -> str:
    """The opening tags of a page, one after another."""
    return "".join(TAG.findall(COMMENT.sub("", html) if "<!--" in html else html))


@lru_cache(maxsize=256)
def _places(tags: str) -> list[tuple[str, str]]:
    """Every id, href and src, in order."""
    return PLACE.findall(tags)
