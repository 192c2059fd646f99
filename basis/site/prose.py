"""Markdown with Jinja in it, made into HTML with Jinja in it: once a template, however many projects use it.

Jinja tags are taken out before Markdown sees the text and put back after, so neither can touch the other.
"""
from __future__ import annotations

import re

import markdown
from markdown.extensions.toc import slugify

TAG = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", re.DOTALL)
HOLDER = re.compile(r"qjq(\d+)qjq")
PARAGRAPH = re.compile(r"<p>(.*?)</p>", re.DOTALL)
CALL = re.compile(r"\{\{-?\s*(\w+)\(")
NOT_LISTED = re.compile(r'<p class="none">(.*?)</p>\n?')
EMPTY_PARAGRAPH = re.compile(r"<p>\s*</p>\n?")
EXTENSIONS = ("tables", "sane_lists", "toc", "smarty")
SMARTY = {"smart_quotes": True, "smart_dashes": True, "smart_ellipses": True}
BLOCKS = frozenset({  # functions that give a block of their own, not words in a sentence
    "answered", "attention", "bands", "books", "chapters", "checks", "choices", "codes", "compared", "defaults", "entries", "fields", "figure",
    "formula_words", "headline", "input_keys", "items", "kinds", "known_meanings", "lists", "mark_meanings", "matrix", "not_read", "open_assumptions",
    "options", "questions", "residuals", "self_tests", "sign_off", "standing", "standing_meanings", "symbols", "table", "template_functions",
    "term_facts", "tight_meaning", "tight_rule", "undecided_checks", "used_sources", "verdict_meanings", "verdicts", "weak_formulas",
})


def to_html(source: str) -> str:
    """The template's Markdown as HTML, its Jinja tags untouched; paragraphs that only hold block tags lose their `<p>`."""
    tags: list[str] = []

    def hold(found: re.Match) -> str:
        tags.append(found[0])
        return f"qjq{len(tags) - 1}qjq"

    settings = {"smarty": SMARTY, "toc": {"slugify": _slug}}
    text = markdown.markdown(TAG.sub(hold, source), extensions=list(EXTENSIONS), extension_configs=settings)
    text = PARAGRAPH.sub(lambda found: _unwrapped(found, tags), text)
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


def without_empty_paragraphs(html: str) -> str:
    """The rendered page without paragraphs whose every branch was left out, and with what a list does not hold told once."""
    told: set[str] = set()

    def once(found: re.Match) -> str:
        again = found[1] in told
        told.add(found[1])
        return "" if again else found[0]

    return NOT_LISTED.sub(once, EMPTY_PARAGRAPH.sub("", html))
