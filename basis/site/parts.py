"""Parts of pages that more than one page shows: verdicts, checks, options, assumptions, cautions."""
from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.language import units
from basis.language.formula import Chapter
from basis.language.sources import sources
from basis.language.terms import terms
from basis.language.words import in_sentence
from basis.reading.givens import Given
from basis.reading.project import Decision
from basis.site import asked, exports, governs, html, tables
from basis.site.addresses import WORKINGS, Addresses, check_anchor, working_page, workings
from basis.site.numbering import caption
from basis.site.quantities import absent, both, margin, named, number, reference
from basis.site.quantities import warnings as warnings_of
from basis.site.sheet import cited, standing_head, verdict_class, verdict_head, verdict_moved, verdict_word
from basis.solving.chances import HOW_SAMPLED
from basis.solving.lacking import told, told_shortly
from basis.solving.turning import Turning
from basis.solving.unread import Unread
from basis.solving.value import Value, written_shown
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import NOTHING, WORDS
from basis.solving.verdicts import TIGHT, TIGHT_DIFFERENCES

NO_CHECK = "none"  # in place of a verdict
MANY = 12  # of the figures of a chapter that differ between options, this many are shown there; all stand on the page of options
PLURAL = {"holds": "hold", "fails": "fail"}
SIDES = {"below": "at most", "above": "at least"}


def working_links(addresses: Addresses, chapter: Chapter) -> Markup:
    """Links to the pages with the working of a chapter."""
    return html.join([addresses.data.link(working_page(chapter.id, kind), WORKINGS[kind].lower()) for kind in workings(addresses.book, chapter.id)], ", ")


# ---- verdicts ----

def tally(addresses: Addresses, verdicts: Sequence[Verdict], names: bool = True) -> Markup:
    """How many checks fail, are undecided, tight, hold, have nothing to check; and, where the page holds them, which want attention."""
    if not verdicts:
        return html.paragraph("No check is made here.")
    counts = Counter(verdict.word for verdict in verdicts)
    judged = len(verdicts) - counts[NOTHING]
    lines = [verdict_word(word) + (f": {counts[word]}" if word == NOTHING else f": {counts[word]} of {judged}")
             + (_which(addresses, word, verdicts) if names else "") for word in WORDS if counts[word]]
    return html.bullets(lines, class_="tally")


def _which(addresses: Addresses, word: str, verdicts: Sequence[Verdict]) -> Markup:
    if word in ("holds", NOTHING):
        return html.EMPTY
    named = [addresses.data.link(f"#{check_anchor(one.check)}", in_sentence(one.check.title)) for one in verdicts if one.word == word]
    return escape(" – ") + html.join(named, ", ")


def verdict_inline(addresses: Addresses, verdict: Verdict, plural: bool = False) -> Markup:
    """The word of a verdict with its margin, or with what is missing; `plural` where more than one thing holds or fails."""
    mark = verdict_moved(addresses, verdict)
    if verdict.word == NOTHING:
        return verdict_word(verdict.word) + f" ({verdict.nothing_text})" + mark
    if not verdict.decided:
        return verdict_word(verdict.word) + f" ({told_shortly(addresses.book, verdict.missing)})" + mark
    return verdict_word(verdict.word, PLURAL.get(verdict.word, "") if plural else "") + html.small(" (margin ", margin(verdict), ")") + mark


def missing_text(addresses: Addresses, verdict: Verdict) -> str:
    """What is not listed, or what to write and where, in words."""
    return verdict.nothing_text if verdict.word == NOTHING else told(addresses.book, verdict.missing)


def checks_table(addresses: Addresses, verdicts: Iterable[Verdict], anchors: bool = True, label: str = "Checks of this chapter") -> Markup:
    """Each check with its source: value, limit, verdict with margin, and what the project says about it."""
    rows = [_check_row_once(addresses, verdict, anchors) for verdict in sorted(verdicts, key=lambda one: one.word == NOTHING)]  # what does not apply comes last
    return html.table(caption(addresses, label), ("Check", "Verdict", "Value and limit", "Remark"), rows, "words checks") if rows else html.EMPTY


def all_checks(addresses: Addresses) -> Markup:
    """Every check of the book in one table, the most urgent first; it sorts, filters by verdict and chapter, and stands beside the page as CSV."""
    order = list(WORDS)
    found = sorted(((chapter, verdict) for chapter in addresses.book.chapters for verdict in addresses.book.checks_of(chapter.id)),
                   key=lambda pair: order.index(pair[1].word))
    heads = ("Check", verdict_head(), standing_head("Value and limit"), html.tag("th", "Chapter", data_pick="Chapter"), "Remark")
    table = html.table(caption(addresses, "Checks of all chapters"), heads, [_row_of_all(addresses, *pair) for pair in found], "words checks")
    return exports.schedule_of_words(addresses, "checks.csv", table, ("id", "Check", "Verdict", "Margin", "Value", "Limit", "Chapter", "Remark"),
                                     [_cells(chapter, verdict) for chapter, verdict in found], "These checks as CSV")


def _row_of_all(addresses: Addresses, chapter: Chapter, verdict: Verdict) -> Markup:
    title, told, against, remark = _check_row(addresses, verdict, anchors=True)
    place = addresses.book.chapters.index(chapter)
    return html.row((title, told, against, html.tag("td", addresses.data.link(f"{chapter.id}.html", chapter.title), data_key=place), remark))


def _cells(chapter: Chapter, verdict: Verdict) -> tuple[str, ...]:
    value, limit = (side.text() if side else "" for side in (verdict.value, verdict.limit))
    return (verdict.check.id, verdict.check.title, verdict.word, verdict.margin_text.removeprefix("+"), value,
            f"{SIDES[verdict.check.safe]} {limit}" if limit else "", chapter.title, verdict.remark)


def tight_rule() -> Markup:
    """When a check that holds is called tight."""
    little = TIGHT_DIFFERENCES["temperature"]
    return html.paragraph(TIGHT[0], both(units.difference_shown(little, "degC"), units.difference_shown(little, "degF")), TIGHT[1])


def _check_row_once(addresses: Addresses, verdict: Verdict, anchors: bool) -> tuple:
    """The same at every step of a trial that leaves the verdict as issued."""
    if addresses.book is addresses.main or addresses.main.check(verdict.check.id) is not verdict:
        return _check_row(addresses, verdict, anchors)
    return addresses.unmoved(f"check {verdict.check.id}", lambda issued: _check_row(issued, verdict, anchors))


def _check_row(addresses: Addresses, verdict: Verdict, anchors: bool) -> tuple:
    check, where = verdict.check, _element_name(addresses, verdict)
    title = [html.tag("span", check.title, id=addresses.data.place(check_anchor(check)) if anchors else None), html.small(f" worst: {where}") if where else "",
             html.tag("div", html.join([cited(addresses, sources()[name]) for name in check.sources], "; "), class_="from"), asked.lines(addresses, check.id)]
    value = number(addresses, verdict.value) if verdict.value else absent(missing_text(addresses, verdict))
    limit = html.EMPTY if verdict.word == NOTHING else _limit_told(addresses, verdict)
    left = html.small(" ", margin(verdict)) if verdict.margin_text else html.EMPTY
    against = html.join([html.tag("div", value), html.tag("div", limit)])
    told = html.join([verdict_word(verdict.word) + left, verdict_moved(addresses, verdict), _chance(verdict)])
    return html.join(title), told, against, verdict.remark or "–"


def test_sheet(addresses: Addresses, verdicts: Iterable[Verdict]) -> Markup:
    """What is read in a test: designed value, limit, verdict of the design, and an empty cell for the reading of the day."""
    rows = [_sheet_row(addresses, verdict) for verdict in verdicts if verdict.word != NOTHING]
    heads = ("What is read", "Designed", "Passes if", "The design", "Read on the day")
    none = html.paragraph("No chapter of this book computes what a test could be held against.")
    return html.table(caption(addresses, "Test sheet"), heads, rows, "words") if rows else none


def _sheet_row(addresses: Addresses, verdict: Verdict) -> tuple:
    where = _element_name(addresses, verdict)
    title = html.link(addresses.check_address(verdict.check), verdict.check.title) + (html.small(f" worst: {where}") if where else "")
    value = verdict.value or _plain(addresses, verdict.check.value)
    designed = number(addresses, value) if value else absent("not known")
    return title, designed, _limit_told(addresses, verdict), verdict_word(verdict.word), html.cell("", class_="reading")


def _limit_told(addresses: Addresses, verdict: Verdict) -> Markup:
    """The limit of a check, known too where what is held against it is not; of many items where they stand."""
    if limit := verdict.limit or _plain(addresses, verdict.check.limit):
        return escape(SIDES[verdict.check.safe] + " ") + number(addresses, limit)
    many = addresses.book.values.get(verdict.check.limit)
    known = many is not None and many.axes and many.exists and many.id not in addresses.book.undecided
    return html.link(addresses.address(many.id), "limit of each") if known else absent("limit not known")


def _plain(addresses: Addresses, term_id: str) -> Value | None:
    """The one number of a side of a check that is undecided for want of the other side."""
    found = addresses.book.values.get(term_id)
    return found if found is not None and not found.axes and found.exists else None


def _chance(verdict: Verdict) -> Markup:
    """The chance that the limit is met, where inputs carry a plus or minus; how it was counted comes with it."""
    if not verdict.samples:
        return html.EMPTY
    return html.tag("div", f"met in {verdict.chance_text} of {verdict.samples_text}", class_="from", title=HOW_SAMPLED)


def _element_name(addresses: Addresses, verdict: Verdict) -> str:
    if not verdict.element:
        return ""
    axes = terms()[verdict.check.value].axes
    return ", ".join(addresses.item_name(axis, item) for axis, item in zip(axes, verdict.element.split(" ")))


# ---- options ----

def option_table(addresses: Addresses, decision: Decision, value_ids: Sequence[str]) -> Markup:
    """Options side by side; every number leads to its working, that of another option to the working of that option."""
    sides = _sides(addresses, decision)
    heads = ["Quantity", *(_option_head(decision, option) for option in decision.options)]
    rows = [(_row_name(sides, value_id), *(_option_cell(side, value_id) for side in sides)) for value_id in value_ids]
    return html.table(caption(addresses, f"{decision.name}: what each option comes to"), heads, rows, "values options")


def _sides(addresses: Addresses, decision: Decision) -> list[Addresses]:
    """The addresses of each option, in order."""
    return [addresses.with_option(decision, option) for option in decision.options]


def _option_head(decision: Decision, option) -> Markup:
    return html.span("chosen", f"{option.name} (chosen)") if option.id == decision.chosen else escape(option.name)


def _row_name(sides: Sequence[Addresses], value_id: str) -> Markup:
    term_id, *ids = value_id.split(".")
    value = next((side.book.values[term_id] for side in sides if term_id in side.book.values), None)
    name = named(value) if value is not None else escape(terms()[term_id].name)
    items = [sides[0].item_name(axis, item) for axis, item in zip(terms()[term_id].axes, ids)]
    return name + (f", {', '.join(items)}" if items else "")


def _option_cell(side: Addresses, value_id: str) -> Markup:
    if waits := side.book.undecided.get(value_id.partition(".")[0]):
        return absent(told_shortly(side.book, waits))
    try:
        value = side.book[value_id]
    except KeyError:
        return absent("not part of this option")
    return html.link(side.address(value.id), "see its working") if value.axes else number(side, value)


def option_checks(addresses: Addresses, decision: Decision) -> Markup:
    """Checks whose verdict or margin is not the same in every option."""
    sides = _sides(addresses, decision)
    found = [{verdict.check.id: verdict for verdict in side.book.checks} for side in sides]
    rows = []
    for check_id, verdict in found[0].items():
        lines = [verdicts[check_id] for verdicts in found]
        if len({(line.word, line.margin_text) for line in lines}) > 1:
            told = [verdict_inline(side, line) for side, line in zip(sides, lines)]
            rows.append(html.row((html.link(sides[0].check_address(verdict.check), verdict.check.title), *told), data_of=catalogue().chapter_of.get(check_id)))
    heads = ["Check", *(verdict_head(_option_head(decision, option)) if option.id == decision.chosen else _option_head(decision, option)
                        for option in decision.options)]
    none = html.paragraph("No check tells the options apart.")
    return exports.by_chapter(html.table(caption(addresses, f"{decision.name}: checks that differ"), heads, rows, "words"), len(rows)) if rows else none


def gives_up(decision: Decision) -> Markup:
    """What each option gives up, in the project's words, and said to be that."""
    lines = [(_option_head(decision, option), option.gives_up or "not stated") for option in decision.options]
    return html.paragraph("What each option gives up:", class_="label") + html.definitions(lines, class_="gives")


def compared(addresses: Addresses, decision: Decision, chapter: Chapter, asked: Sequence[str]) -> Markup:
    """A decision as one chapter sees it: what is chosen, and the figures asked for as far as they differ.

    Why, and what each option gives up, stands once: in the chapter that is the decision's home. The others lead to the page of options, which says it too.
    """
    differ = addresses.book.differing(decision.id)
    shown = [name for name in asked if name in differ] or [name for name in differ if addresses.book.home.get(name) == chapter.id][:MANY]
    anchor, chosen = f"decision-{decision.id}", next(option.name for option in decision.options if option.id == decision.chosen)
    home = addresses.book.home_of(decision.id) == chapter.id
    return html.join([
        addresses.data.heading(decision.name, anchor),
        html.paragraph("Chosen: ", html.tag("strong", chosen), f". {decision.reason}" if home else ".", class_="reason"),
        option_table(addresses, decision, shown) if shown else html.EMPTY, gives_up(decision) if home else html.EMPTY,
        html.paragraph(addresses.data.link(f"options.html#{anchor}", f"{'All' if home else 'Why, what each option gives up, and all'} that differs: "
                                                           f"{in_sentence(decision.name)}"), class_="label")])


# ---- figures by which a plant is known ----

def headline(addresses: Addresses, values: Iterable[Value]) -> Markup:
    """Name over number, as many beside one another as there is room for."""
    pairs = [html.tag("div", html.tag("dt", value.term.name), html.tag("dd", number(addresses, value))) for value in values]
    return html.tag("dl", *pairs, class_="headline")


# ---- what is open ----

def unread_table(addresses: Addresses, found: Sequence[Unread]) -> Markup:
    """Givens that no formula reads, with the choices that say so."""
    rows = [(given_name(addresses, one.given), written_shown(terms()[one.given.term], one.given.written),
             html.tag("code", tables.place(one.given)), one.reason)
            for one in found]
    heads = ("Given", "As written", "Where", "Not read by formulas, as")
    return html.table(caption(addresses, "Given and not read"), heads, rows, "words") if rows else html.EMPTY


def assumptions_table(addresses: Addresses, givens: Sequence[Given], turned: Sequence[Turning] | None = None, judged: bool = False) -> Markup:
    """Givens that somebody still has to confirm; where their turning points are known, ordered by them. `judged`: with the worst that checks on them say."""
    pairs = [(given, governs.of_given(given, turned or ())) for given in givens]
    return givens_table(addresses, governs.ranked(pairs) if turned is not None else pairs, "Assumed", "Open assumptions", turned is not None, judged)


def worst_head() -> Markup:
    """The head of a column with the worst verdict of all checks that rest on a number."""
    return verdict_head("Worst check on it")


def worst_cell(addresses: Addresses, value_id: str) -> Markup:
    """The worst verdict of all checks that rest on a value, on whichever of its items."""
    word = addresses.book.worst.get(value_id, "")
    return html.tag("td", word, class_=verdict_class(word)) if word else html.cell(NO_CHECK)


def givens_table(addresses: Addresses, pairs: Iterable[tuple], head: str, label: str, turned: bool = False, judged: bool = False) -> Markup:
    """Givens as written, each with its turning point where that is asked for, with file, line and what is noted."""
    rows = [(given_name(addresses, given), *((worst_cell(addresses, given.term),) if judged else ()), written_shown(terms()[given.term], given.written),
             *((governs.told(addresses, one, terms()[given.term].is_text),) if turned else ()),
             html.tag("code", tables.place(given)), "; ".join(filter(None, (given.note, given.source))) or "–")
            for given, one in pairs]
    heads = (head, *((worst_head(),) if judged else ()), "As written", *(("Turns a verdict",) if turned else ()), "Where", "Note")
    table = html.table(caption(addresses, label), heads, rows, "words open") if rows else html.EMPTY
    return exports.by_chapter(table, len(rows))


def given_name(addresses: Addresses, given: Given) -> Markup:
    """What a given gives, and of which item, leading to its working."""
    value = addresses.book.values.get(given.term)
    name = reference(addresses, value) if value is not None else escape(terms()[given.term].name)
    axis = terms()[given.term].axes[:1]
    return name + (f", {addresses.item_name(axis[0], given.element)}" if given.element and axis else "")


def cautions(lines: Iterable[str]) -> Markup:
    """The cautions of a subject."""
    inner = html.bullets(lines)
    return html.tag("div", inner, class_="notice caution") if inner else html.EMPTY


def warnings(addresses: Addresses, values: Iterable[Value]) -> Markup:
    """Values outside the range for which their formula holds."""
    lines = [html.join((reference(addresses, value), ": ", warning)) for value in values for warning in warnings_of(value)]
    return html.tag("div", html.bullets(lines), class_="notice") if lines else html.EMPTY

