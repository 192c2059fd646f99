"""What the style sheet for paper asks of a page: its running head, and the number of its chapter, as text for CSS."""
from __future__ import annotations

import re

UNSAFE = re.compile(r'[\\"<>&\x00-\x1f]')  # within a string of CSS within a page


def running(document: str, here: str, part: str) -> str:
    """Declarations of custom properties: the document with its revision, what this page is about, and the number of its chapter, if it has one."""
    said = {"document": document, "here": here, "part": part}
    return "".join([f"--{name}:{quoted(text)};" for name, text in said.items() if text]).removesuffix(";")


def quoted(text: str) -> str:
    """A string of CSS that can neither end itself nor the element in which it stands."""
    return f'"{UNSAFE.sub(lambda found: f"{chr(92)}{ord(found[0]):x} ", text)}"'
