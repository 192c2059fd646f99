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


@dataclass(frozen=True)
class Read:
    """What the link checker reads of one page: how often each id stands, its links as addresses in the site, and what a drawing refers to in vain."""

    ids: Counter
    anchors: frozenset[str]  # address, and address#id of each id
    targets: Mapping[str, str]  # address in the site -> the link as it stands
    dangling: tuple[str, ...]

    @property
    def twice(self) -> list[tuple[str, int]]:
        """Ids that stand more than once."""
        return [(name, count) for name, count in self.ids.items() if count > 1] if len(self.anchors) <= self.ids.total() else []


def broken(pages: Mapping[str, str], files: Collection[str] = ()) -> list[Broken]:
    """Dead links, dead anchors, links that leave the site, and ids that stand twice, over pages by address."""
    read = {address: _read(address, html) for address, html in pages.items()}
    known = frozenset(files).union(*(page.anchors for page in read.values()))
    found = []
    for address, page in read.items():
        found += [Broken(address, name, f"id '{name}' stands {count} times on the page", "one") for name, count in page.twice]
        found += [_dead(address, page.targets[place], place, read) for place in sorted(page.targets.keys() - known)]
        found += [Broken(address, name, f"a drawing refers to #{name}, which is not there") for name in page.dangling]
    return found


def _dead(address: str, target: str, place: str, read: Mapping[str, Read]) -> Broken:
    """What is wrong with a link that leads nowhere."""
    if OUTSIDE.match(target):
        return Broken(address, target, f"link to {target} leaves the site", "a page of the book")
    page, _, anchor = place.partition("#")
    if page in read and anchor:
        return Broken(address, target, f"dead anchor {target}", f"an id on {page}")
    return Broken(address, target, f"dead link {target}", "a page that is built")


def written_in(source: str, html: str) -> dict[str, int]:
    """Ids and links that a template itself writes -> the line of its text at which each is written, or 0 where its text has other words for it."""
    found = {place: re.search(rf"[\"(]{re.escape(place)}", source) for _, place in PLACE.findall(_tags(html))}
    return {place: source.count("\n", 0, at.start()) + 1 if at else 0 for place, at in found.items()}


@lru_cache(maxsize=4096)  # pages that a save has left as they were are not read again
def _read(address: str, html: str) -> Read:
    tags = _tags(html)
    places = PLACE.findall(tags)
    ids = Counter(name for kind, name in places if kind == "id")
    targets = {_beside(address, target): target for target in {target for kind, target in places if kind != "id"}}
    inner = {one or other for one, other in SVG_ID.findall(tags)} if "<svg" in tags else set()
    return Read(ids, frozenset((address, *(f"{address}#{name}" for name in ids))), targets, tuple(sorted(inner - set(ids))))


def _beside(address: str, target: str) -> str:
    """Address in the site of what a link on a page leads to."""
    path, sign, anchor = target.partition("#")
    if OUTSIDE.match(target):
        return target
    return f"{_joined(posixpath.dirname(address), path) if path else address}{sign if anchor else ''}{anchor}"


@lru_cache(maxsize=4096)
def _joined(folder: str, path: str) -> str:
    return posixpath.normpath(posixpath.join(folder, path))


def _tags(html: str) -> str:
    """The opening tags of a page, one after another."""
    return "".join(TAG.findall(COMMENT.sub("", html) if "<!--" in html else html))
