"""Markdown with Jinja in it, made into HTML with Jinja in it: once a template, however many projects use it.

Jinja tags are taken out before Markdown sees the text and put back after, so neither can touch the other.
"""
from __future__ import annotations

import json
import re
from collections.abc import Callable
from html import unescape

import markdown
from markdown.extensions.toc import slugify
from markupsafe import Markup

from basis.site.page_data import PageData

TAG = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", re.DOTALL)
HOLDER = re.compile(r"qjq(\d+)qjq")
PARAGRAPH = re.compile(r"<p>(.*?)</p>", re.DOTALL)
WORDS = re.compile(r"<(p|li|td|h3)\b[^>]*>(.*?)</\1>", re.DOTALL)  # what holds words of a template
ARM = re.compile(r"(\{%.*?%\})", re.DOTALL)
NUMBER = re.compile(r"""\{\{-? *value\(["'](\w+)["']\) *-?\}\}""")
NAMED = re.compile(r"\{\w+\}")  # a value as noted words name it
MARK = re.compile(r"<[^>]*>")
LETTERS = re.compile(r"[^\W\d_]{2}")
HEADING = re.compile(r'<h2 id="([^"{]*)">(.*?)</h2>')  # as Markdown writes it
ATTRIBUTE = re.compile(r'(<[a-z][^>{]*?) id="([^"{]*)"')
LINK = re.compile(r'(<[a-z][^>{]*?) (href|src)="([^"{]*)"')
IF, END_IF = re.compile(r"\{%-? *if\b"), re.compile(r"\{%-? *endif\b")
CALL = re.compile(r"\{\{-?\s*(\w+)\(")
EXTENSIONS = ("tables", "sane_lists", "toc", "smarty")
TABLE_OPENS = '<div class="wide" role="group" aria-label="Table"><table class="words">'
ABOVE_TABLE = re.compile(rf"(qjq\d+qjq)\s*({re.escape(TABLE_OPENS)})")
SMARTY = {"smart_quotes": True, "smart_dashes": True, "smart_ellipses": True}
BLOCKS = frozenset({  # functions that give a block of their own, not words in a sentence
    "answered", "bands", "books", "calendar", "caption", "chances", "changes", "chapters", "checks", "choices", "codes", "compared", "cover", "data",
    "data_keys", "defaults", "entries", "fields", "figure", "first_to_settle", "formula_words", "headline", "input_keys", "issues", "items", "items_with",
    "kinds", "known_meanings", "lists", "margins", "mark_meanings", "matrix", "measured_inputs", "not_read", "open_assumptions", "options", "questions",
    "ranking", "readings", "residuals", "schematic", "self_tests", "sign_off", "standing", "standing_meanings", "symbols", "table", "template_functions",
    "term_facts", "test_sheet", "tight_meaning", "tight_rule", "undecided_checks", "used_sources", "verdict_meanings", "verdicts", "weak_formulas",
    "what_moves", "worth",
})


def to_html(source: str) -> str:
    """The template's Markdown as HTML, its Jinja tags untouched; paragraphs that only hold block tags lose their `<p>`."""
    tags: list[str] = []

    def hold(found: re.Match) -> str:
        tags.append(found[0])
        return f"qjq{len(tags) - 1}qjq"

    settings = {"smarty": SMARTY, "toc": {"slugify": _slug}}
    text = markdown.markdown(TAG.sub(hold, source), extensions=list(EXTENSIONS), extension_configs=settings)
    text = PARAGRAPH.sub(lambda found: _unwrapped(found, tags), text).replace("<table>", TABLE_OPENS).replace("</table>", "</table></div>")
    text = ABOVE_TABLE.sub(lambda found: f"{found[2]}{found[1]}" if tags[int(found[1][3:-3])].startswith("{{ caption(") else found[0], text)
    return HOLDER.sub(lambda found: tags[int(found[1])], text)


def _slug(heading: str, separator: str) -> str:
    """Anchor of a heading, without what Jinja puts into it."""
    return slugify(HOLDER.sub("", heading), separator)


def _unwrapped(paragraph: re.Match, tags: list[str]) -> str:
    inner = paragraph[1]
    held = [tags[int(number)] for number in HOLDER.findall(inner)]
    alone = held and not HOLDER.sub("", inner).strip()
    return inner if alone and all(map(_is_block, held)) else paragraph[0]


def _is_block(tag: str) -> bool:
    if tag.startswith(("{%", "{#")):
        return True
    call = CALL.match(tag)
    return bool(call) and call[1] in BLOCKS


def lines_of(source: str, html: str) -> dict[int, int]:
    """Line of the HTML template -> line of the template as written, by the Jinja tags that both hold in the same order."""
    written = [source.count("\n", 0, found.start()) + 1 for found in TAG.finditer(source)]
    made = [html.count("\n", 0, found.start()) + 1 for found in TAG.finditer(html)]
    return dict(reversed(list(zip(made, written))))


def noted(html: str) -> str:
    """The same HTML template, which notes each id, link and heading that it writes when a page is made, and what it says, and leaves out a paragraph
    without words.

    Raises nothing: an attribute with a tag in it is left as it is.
    """
    html = WORDS.sub(lambda found: "".join(arm + _said(arm) for arm in ARM.split(found[0])), html)
    html = PARAGRAPH.sub(lambda found: _optional(found) if _balanced(found[1]) else found[0], html)
    html = HEADING.sub(lambda found: f'<h2 id="{_call("note_heading", unescape(found[1]), TAG.sub("", found[2]))}">{found[2]}</h2>', html)
    html = ATTRIBUTE.sub(lambda found: f'{found[1]} id="{_call("note_id", unescape(found[2]))}"', html)
    return LINK.sub(lambda found: f'{found[1]} {found[2]}="{_call("note_link", unescape(found[3]))}"', html)


def noting(data: PageData) -> dict[str, Callable]:
    """What `noted` calls."""
    return {"note_words": data.say, "note_id": data.place, "note_link": data.lead, "note_heading": lambda name, title: _headed(data, name, title),
            "paragraph": _paragraph}


def _headed(data: PageData, name: str, title: str) -> str:
    """A heading of a template, under which something may be said."""
    placed = data.head(name, Markup(title))
    data.say("")
    return placed


def written_in(source: str, html: str) -> dict[str, int]:
    """Ids and links that a template itself writes -> the line of its text at which each is written, or 0 where its text has other words for it."""
    places = [*(found[2] for found in ATTRIBUTE.finditer(html)), *(found[3] for found in LINK.finditer(html))]
    found = {place: re.search(rf"[\"(]{re.escape(place)}", source) for place in places}
    return {place: source.count("\n", 0, at.start()) + 1 if at else 0 for place, at in found.items()}


def _said(arm: str) -> str:
    """Notes the words of a part of a template that stands or is left out as a whole; of what tags write only numbers of values."""
    if arm.startswith("{%"):
        return ""
    words = " ".join(MARK.sub("", TAG.sub("…", NUMBER.sub(r"{\1}", arm))).split())
    return _call("note_words", words) if LETTERS.search(NAMED.sub("", words)) else ""


def _call(name: str, *words: str) -> str:
    return f"{{{{ {name}({', '.join(json.dumps(word, ensure_ascii=False) for word in words)}) }}}}"


def _balanced(inner: str) -> bool:
    """Whether a paragraph asks something, and ends what it asks."""
    return 0 < len(IF.findall(inner)) == len(END_IF.findall(inner))


def _optional(paragraph: re.Match) -> str:
    return f"{{% call paragraph() %}}{paragraph[1]}{{% endcall %}}"


def _paragraph(caller: Callable[[], Markup]) -> Markup:
    """A paragraph, unless every branch of it was left out."""
    inner = caller()
    return Markup(f"<p>{inner}</p>") if inner.strip() else Markup("")
