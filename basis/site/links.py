"""Our own link checker: MkDocs never looks into finished HTML. Over all pages, ids and hrefs. May import faults."""
from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Collection, Mapping
from functools import lru_cache

from basis.faults import Fault

PLACE = re.compile(r' (id|href|src)="([^"]*)"')  # as html.py writes attributes
SVG_ID = re.compile(r'xlink:href="#([^"]+)"|url\(#([^)]+)\)')
OUTSIDE = re.compile(r"^[a-z][a-z0-9+.-]*:|^//", re.IGNORECASE)


def faults_of(pages: Mapping[str, str], files: Collection[str] = ()) -> list[Fault]:
    """Dead links, dead anchors, links that leave the site, and ids that stand twice, over pages by address."""
    places = {address: _places(html) for address, html in pages.items()}
    ids = {address: Counter(name for kind, name in stand if kind == "id") for address, stand in places.items()}
    found = []
    for address, html in pages.items():
        found += [Fault(address, 0, f"id '{name}' stands {count} times", "one") for name, count in ids[address].items() if count > 1]
        for target in sorted({target for kind, target in places[address] if kind != "id"}):
            if fault := _fault(address, target, ids, files):
                found.append(fault)
        inner = {one or other for one, other in SVG_ID.findall(html)} if "<svg" in html else set()
        found += [Fault(address, 0, f"a drawing refers to #{name}, which is not there") for name in sorted(inner - set(ids[address]))]
    return found


def _fault(address: str, target: str, ids: Mapping[str, Counter], files: Collection[str]) -> Fault | None:
    if OUTSIDE.match(target):
        return Fault(address, 0, f"link to {target} leaves the site", "a page of the book")
    path, _, anchor = target.partition("#")
    page = _beside(address, path) if path else address
    if page in files and not anchor:
        return None
    if page not in ids:
        return Fault(address, 0, f"dead link {target}", "a page that is built")
    if anchor and anchor not in ids[page]:
        return Fault(address, 0, f"dead anchor {target}", f"an id on {page}")
    return None


@lru_cache(maxsize=4096)
def _beside(address: str, path: str) -> str:
    """Address of a page from the way to it that stands on another."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(address), path))


@lru_cache(maxsize=256)  # pages that a save has left as they were are not read again
def _places(html: str) -> list[tuple[str, str]]:
    """Every id, href and src of a page, in order."""
    return PLACE.findall(html)
