"""Labels of a drawing: lines of text broken at their spaces, with the room that they take. Lengths are in points."""
from __future__ import annotations

from dataclasses import dataclass

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextToPath

TEXT, LINE = 8.0, 9.8  # letters, one line of text
WRAP = {"bus": 82.0, "transformer": 66.0, "feeder": 72.0, "part": 58.0}  # where text is broken


@dataclass(frozen=True)
class Label:
    """Lines of text with the room that they take."""

    lines: tuple[str, ...] = ()
    width: float = 0.0

    @property
    def height(self) -> float:
        """Height of all lines."""
        return LINE * len(self.lines)


def label(kind: str, *paragraphs: str) -> Label:
    """A label of several paragraphs, each broken at its spaces where it would grow too wide; empty ones are left out."""
    lines = tuple(line for paragraph in paragraphs if paragraph for line in _broken(paragraph, WRAP[kind]))
    return Label(lines, max(map(_width, lines), default=0.0))


def _width(text: str) -> float:
    return TextToPath().get_text_width_height_descent(text, FontProperties(family="DejaVu Sans", size=TEXT), False)[0]


def _broken(text: str, limit: float) -> list[str]:
    lines: list[str] = []
    for word in text.split(" "):
        if lines and _width(f"{lines[-1]} {word}") <= limit:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
