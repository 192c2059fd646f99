"""One more id in the list of chapters of somebody's text, with every comment, space and line of it as it was."""

from __future__ import annotations

import yaml


def with_chapter(text: str, chapter: str) -> str:
    """The text with a chapter behind the last of its key `chapters`: on the same line in brackets, on a line of its own with dashes."""
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    entries = next(value for key, value in root.value if key.value == "chapters")
    if not entries.value:
        place = entries.start_mark.index + 1
        return text[:place] + chapter + text[place:]
    last = entries.value[-1]
    if entries.flow_style:
        return f"{text[:last.end_mark.index]}, {chapter}{text[last.end_mark.index:]}"
    line_end = text.find("\n", last.end_mark.index)
    line_end = len(text) if line_end < 0 else line_end
    begun = text[text.rfind("\n", 0, last.start_mark.index) + 1:last.start_mark.index]
    return f"{text[:line_end]}\n{begun}{chapter}{text[line_end:]}"
