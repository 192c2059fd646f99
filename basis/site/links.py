"""Our own link checker, over what was noted of each page while it was made: MkDocs never looks into finished HTML."""
from __future__ import annotations

import posixpath
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache

from basis.language.faults import Fault, Faults
from basis.site.page_data import PageData

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


def check(pages: Mapping[str, PageData], files: Collection[str], written: Mapping[str, tuple[str, int]]) -> None:
    """Raise Faults for what a template has written wrong, at its file and line; BrokenPages for what this program has.

    `pages`: what was noted of each, by address. `files`: addresses of what may be linked to besides. `written`: where ids and links stand in templates.
    """
    found = broken(pages, files)
    if own := [one for one in found if one.place not in written]:
        raise BrokenPages("\n".join(f"{one.address}: {one.what}" for one in own))
    if found:
        raise Faults([Fault(*written[one.place], one.what, one.expected) for one in found])


def broken(pages: Mapping[str, PageData], files: Collection[str] = ()) -> list[Broken]:
    """Dead links, dead anchors, links that leave the site, and ids that stand twice, over pages by address."""
    known = frozenset(files).union(pages, *({f"{address}#{name}" for name in data.ids} for address, data in pages.items()))
    found = []
    for address, data in pages.items():
        found += [Broken(address, name, f"id '{name}' stands {count} times on the page", "one") for name, count in data.ids.items() if count > 1]
        front = address[:address.rfind("/") + 1]
        far = [link for link in data.links if f"{address if link[0] == '#' else front}{link}" not in known]  # not within the page or the folder
        targets = {_beside(address, link): link for link in far}
        found += [_dead(address, targets[place], place, pages) for place in sorted(targets.keys() - known)]
    return found


def _dead(address: str, target: str, place: str, pages: Mapping[str, PageData]) -> Broken:
    """What is wrong with a link that leads nowhere."""
    if OUTSIDE.match(target):
        return Broken(address, target, f"link to {target} leaves the site", "a page of the book")
    page, _, anchor = place.partition("#")
    if page in pages and anchor:
        return Broken(address, target, f"dead anchor {target}", f"an id on {page}")
    return Broken(address, target, f"dead link {target}", "a page that is built")


def _beside(address: str, target: str) -> str:
    """Address in the site of what a link on a page leads to."""
    path, sign, anchor = target.partition("#")
    if OUTSIDE.match(target):
        return target
    return f"{_joined(posixpath.dirname(address), path) if path else address}{sign if anchor else ''}{anchor}"


@lru_cache(maxsize=4096)
def _joined(folder: str, path: str) -> str:
    return posixpath.normpath(posixpath.join(folder, path))
