"""What differs between two fillings of one template: words, attributes, and stretches where one has other elements than the other.

Both are taken apart into elements and texts, which are numbered in the order of the page; a figure counts as nothing, since it does not move. What differs is
told by number, so that a script which counts the same way finds it on the page. Only HTML of our own is taken apart: end tags are written, and no attribute
holds a `>`.
"""
from __future__ import annotations

import re
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from functools import cached_property

TOKEN = re.compile(r"<[^>]*>|[^<]+")
FIGURE = re.compile(r"<figure\b.*?</figure>", re.DOTALL)
NO_FIGURE = "<figure></figure>"
ATTRIBUTE = re.compile(r'([\w-]+)(?:="([^"]*)")?')
ORDER = "data-key"  # by which a table is sorted: not shown
VOID = frozenset(("area", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"))
ENDS_PARAGRAPH = frozenset(("blockquote", "details", "div", "dl", "figure", "h1", "h2", "h3", "h4", "h5", "h6", "hr", "nav", "ol", "p", "pre", "section",
                            "table", "ul"))


@dataclass(eq=False)
class Element:
    """An element of a page with its number, its text or its children, and its shape, which two elements share that differ in words and attributes only."""

    tag: str
    head: str = ""
    number: int = 0
    children: list = field(default_factory=list)
    shape: int = 0

    @property
    def html(self) -> str:
        """The element as it is written."""
        inner = "".join(one.html for one in self.children)
        return f"<{self.head}>{inner}" if self.tag in VOID else f"<{self.head}>{inner}</{self.tag}>"

    @property
    def attributes(self) -> dict[str, str]:
        """Its attributes by name, as they are written."""
        return dict(ATTRIBUTE.findall(self.head.partition(" ")[2]))


@dataclass(eq=False)
class Words:
    """A text of a page with its number."""

    html: str
    number: int
    tag: str = ""
    shape: int = 0


@dataclass(frozen=True)
class Parts:
    """The elements and texts of a page: its root, how many of each it has, and its tokens, each with its element or text."""

    root: Element
    elements: int
    texts: int
    tokens: list[str]
    of_token: list


@dataclass(frozen=True)
class Still:
    """A page without its figures, with which others are compared; it is taken apart when the first of them differs."""

    page: str

    @classmethod
    def of(cls, page: str) -> Still:
        """The same of a page with figures."""
        return cls(FIGURE.sub(NO_FIGURE, page))

    @cached_property
    def parts(self) -> Parts:
        """What it is made of."""
        return taken_apart(self.page)


def taken_apart(page: str) -> Parts:
    """The elements and texts of a page; spaces alone are no text."""
    root = Element("", number=-1)
    way, elements, texts = [root], 0, 0
    tokens = TOKEN.findall(page)
    of_token = []
    for token in tokens:
        of_token.append(None)
        if token[0] != "<":
            if not token.isspace():
                of_token[-1] = Words(token, texts)
                way[-1].children.append(of_token[-1])
                texts += 1
        elif token == "</p>" and way[-1].tag != "p":  # a block has ended it, as browsers read it, and they take this for an empty one
            way[-1].children.append(empty := Element("p", "p", elements))
            _shape(empty)
            elements += 1
        elif token[1] == "/":
            if token != "</figure>":
                _shape(way.pop())
        elif token[1] != "!":
            head = token[1:-1]
            if way[-1].tag == "p" and head.partition(" ")[0] in ENDS_PARAGRAPH:
                _shape(way.pop())
            if head == "figure":
                continue
            of_token[-1] = made = Element(head.partition(" ")[0], head, elements)
            elements += 1
            way[-1].children.append(made)
            if made.tag in VOID:
                _shape(made)
            else:
                way.append(made)
    _shape(root)
    return Parts(root, elements, texts, tokens, of_token)


def _shape(element: Element) -> None:
    element.shape = hash((element.tag, ' id="' in element.head and element.attributes["id"], *(one.shape for one in element.children)))


Place = tuple  # ("text", number) | ("attribute", number, name) | ("range", number of the parent or -1, first child, count)


def changes(before: Still, after: str) -> dict[Place, str | None]:
    """What stands at each place of another page that is other than in the first; None for an attribute that is not there."""
    after = FIGURE.sub(NO_FIGURE, after)
    if after == before.page:
        return {}
    found: dict[Place, str | None] = {}
    if not _one_by_one(before.parts, TOKEN.findall(after), found):
        found.clear()
        _compare(before.parts.root, taken_apart(after).root, found)
    return found


def _one_by_one(before: Parts, tokens: list[str], found: dict) -> bool:
    """Whether the pages differ in words and attributes only, which are then found without taking the second apart."""
    if len(tokens) != len(before.tokens):
        return False
    for place, (old, new) in enumerate(zip(before.tokens, tokens)):
        if old != new:
            one = before.of_token[place]
            if isinstance(one, Words) and new[0] != "<" and not new.isspace():
                found["text", one.number] = new
            elif isinstance(one, Element) and new[0] == "<":
                other = Element(new[1:-1].partition(" ")[0], new[1:-1])
                if one.tag != other.tag or _id(one) != _id(other):
                    return False
                _attributes(one, other, found)
            else:
                return False
    return True


def _compare(before: Element, after: Element, found: dict) -> None:
    if before.head != after.head:
        _attributes(before, after, found)
    if [one.shape for one in before.children] == [one.shape for one in after.children]:
        _pairs(before.children, after.children, found)
    else:
        shapes = SequenceMatcher(None, [one.shape for one in before.children], [one.shape for one in after.children], autojunk=False)
        for how, first, last, begin, end in shapes.get_opcodes():
            old, new = before.children[first:last], after.children[begin:end]
            if how == "equal" or _alike(old, new):
                _pairs(old, new, found)
            else:
                found["range", before.number, first, last - first] = "".join(one.html for one in new)


def _attributes(before: Element, after: Element, found: dict) -> None:
    had, has = before.attributes, after.attributes
    found.update({("attribute", before.number, name): has.get(name) for name in had | has if had.get(name) != has.get(name) and name != ORDER})


def _alike(old: list, new: list) -> bool:
    """Whether two rows of elements are the same sort one by one, each with children of its own that can be compared."""
    return len(old) == len(new) and all(one.tag and one.tag == other.tag and _id(one) == _id(other) and one.children for one, other in zip(old, new))


def _id(element: Element) -> str | None:
    return element.attributes.get("id")


def _pairs(before: list, after: list, found: dict) -> None:
    for old, new in zip(before, after):
        if isinstance(old, Words):
            if old.html != new.html:
                found["text", old.number] = new.html
        else:
            _compare(old, new, found)


def numbers_in(part: Element | Words) -> tuple[set[int], set[int]]:
    """Numbers of the elements and of the texts in a part of a page, itself among them."""
    if isinstance(part, Words):
        return set(), {part.number}
    elements, texts = {part.number}, set()
    for one in part.children:
        inner, words = numbers_in(one)
        elements |= inner
        texts |= words
    return elements, texts
