"""A small reader of finished pages for the tests of the site: a tree of elements, made with Python's own HTML parser."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
ENDED_BY = {"td": {"td", "th", "tr", "tbody"}, "th": {"td", "th", "tr", "tbody"}, "tr": {"tr", "tbody"}, "thead": {"tbody"}, "li": {"li"}, "dt": {"dt", "dd"},
            "dd": {"dt", "dd"}}
UNSEEN = {"script", "style", "title"}


@dataclass(eq=False, slots=True)
class Element:
    """An element with its attributes and what stands in it, in order."""

    tag: str
    attributes: dict
    parent: "Element | None" = None
    content: list = field(default_factory=list)

    def __iter__(self):
        """This element and all below it."""
        waiting = [self]
        while waiting:
            one = waiting.pop()
            yield one
            waiting += [part for part in reversed(one.content) if isinstance(part, Element)]

    def all(self, tag="", class_="", **attributes):
        """Elements below of a tag, a class, with attributes."""
        return [one for one in self if one is not self and (not tag or one.tag == tag) and (not class_ or class_ in one.classes)
                and all(one.attributes.get(name) == value for name, value in attributes.items())]

    @property
    def classes(self):
        return (self.attributes.get("class") or "").split()

    @property
    def text(self):
        """What a reader sees, with spaces made plain."""
        if self.tag in UNSEEN:
            return ""
        joined = "".join(part if isinstance(part, str) else part.text for part in self.content)
        return " ".join(joined.split())


def in_si(element) -> str:
    """The text that a reader of SI sees."""
    parts = (part if isinstance(part, str) else in_si(part) for part in element.content if isinstance(part, str) or part.tag != "u-us")
    return " ".join("".join(parts).split())


class _Tree(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.root = self.here = Element("", {})

    def handle_starttag(self, tag, attrs):
        while tag in ENDED_BY.get(self.here.tag, ()):  # HTML lets these end without an end tag
            self.here = self.here.parent
        made = Element(tag, dict(attrs), self.here)
        self.here.content.append(made)
        if tag not in VOID:
            self.here = made

    def handle_startendtag(self, tag, attrs):
        self.here.content.append(Element(tag, dict(attrs), self.here))

    def handle_endtag(self, tag):
        one = self.here
        while one.parent is not None and one.tag != tag:
            one = one.parent
        if one.parent is not None:
            self.here = one.parent

    def handle_data(self, data):
        self.here.content.append(data)


def read(html: str) -> Element:
    """The tree of a page."""
    tree = _Tree()
    tree.feed(html)
    return tree.root
