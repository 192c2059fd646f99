"""What the templates of the pages about a whole book may call: front page, options, checks, open assumptions, sources, terms."""
from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup, escape

from basis.export.calendar import has_days
from basis.export.files import CALENDAR, SAID
from basis.language.formula import Chapter
from basis.language.sources import KINDS, sources
from basis.language.terms import terms
from basis.language.words import as_sentence
from basis.record.history import Issue
from basis.site import cover, exports, frame, governs, html, parts, registers, sheet
from basis.site.addresses import Addresses, option_page, source_anchor
from basis.site.functions import BookFunctions
from basis.site.kept import kept
from basis.site.numbering import caption
from basis.site.page_data import PageData
from basis.site.quantities import both, default_shown, number, reference, symbol
from basis.solving.book import Book
from basis.solving.turning import Turning
from basis.solving.value import Value
from basis.solving.verdict_words import WORDS

MANY = 5  # of what rests on one source or option, this many are named; the rest is counted


class OverviewFunctions(BookFunctions):
    """Functions for the pages about a whole book."""

    def __init__(self, addresses: Addresses, shown: Sequence[str] = (), cited: Collection[str] = (), turned: Sequence[Turning] | None = None,
                 issue: Issue | None = None):
        super().__init__(addresses)
        self._shown, self._cited, self._turned, self._issue = shown, cited, turned, issue

    def cover(self, *value_ids: str) -> Markup:
        """The cover; the values are the figures by which the plant is known, as many as there are."""
        return cover.cover(self._addresses, [found for name in value_ids if (found := self._plain(name))], self._turned, self._issue)

    def standing(self) -> Markup:
        """The line of verdicts of the whole book, as counts."""
        return parts.tally(self._addresses, self._book.checks, names=False)

    def checks(self) -> Markup:
        """All checks, the most urgent first."""
        return parts.all_checks(self._addresses)

    def tight_rule(self) -> Markup:
        """When a check that holds is called tight."""
        return parts.tight_rule()

    def self_tests(self) -> Markup:
        """What proves the program and not the plant, by chapter."""
        made = [self._data.heading(chapter.title, f"of-{chapter.id}") + parts.checks_table(self._addresses, own, label=f"Self-tests of {chapter.title}")
                for chapter in self._book.chapters if (own := self._book.self_tests_of(chapter.id))]
        return html.join(made) or html.paragraph("The chapters of this book have none.")

    def requires(self) -> bool:
        """Whether the project lists any requirement."""
        return bool(self._book.project.requirements)

    def asks(self) -> bool:
        """Whether the project records any question."""
        return bool(self._book.project.questions)

    def answered(self) -> Markup:
        """How the requirements of the project stand, and how many questions."""
        return registers.summary(self._addresses)

    def matrix(self) -> Markup:
        """How the requirements stand, and each with what answers it."""
        return registers.tally(self._addresses) + registers.matrix(self._addresses)

    def questions(self) -> Markup:
        """The questions of the project, open ones first."""
        return registers.questions(self._addresses)

    def residuals(self) -> Markup:
        """What each calculation by steps leaves over when its results are put into its own equation."""
        firsts: dict[str, Value] = {}
        for value in self._book.values.values():
            if value.residual:
                firsts.setdefault(value.producer.id, value)
        rows = [(reference(self._addresses, value), value.producer.equation, sheet.residual_text(value)) for value in firsts.values()]
        heads = ("Result", "Equation", "Left over")
        return self._table("Residuals", heads, rows) or html.paragraph("Nothing is solved by steps here.")

    def data(self) -> Markup:
        """The book as data: links to its files where they are made, else the command that writes them."""
        how = self._addresses.data.link("../how-to-take.html", "How to take data out of a book")
        if not self._addresses.workshop.data:
            return html.paragraph("A command writes this book as data, ", html.tag("code", f"basis export {self._book.project.slug}"), ". ", how, ".")
        names = [name for name in SAID if name != CALENDAR or has_days(self._book)]
        return html.bullets([self._addresses.data.link(name, SAID[name], download=True) for name in names]) + html.paragraph(how, ".")

    def chapters(self) -> Markup:
        """The chapters of this book, what each settles, and how its checks stand, the worst first."""
        rows = [(html.join([f"{number} ", self._data.link(f"{chapter.id}.html", chapter.title)]), chapter.settles, self._standing(chapter),
                 parts.working_links(self._addresses, chapter)) for number, chapter in enumerate(self._book.chapters, start=1)]
        return html.table("", ("Chapter", "What it settles", "Checks", "Working"), rows, "words chapters", "Chapters")

    def _standing(self, chapter: Chapter) -> Markup:
        words = [verdict.word for verdict in self._book.checks_of(chapter.id)]
        return _counts(words) or escape("none made")

    def choices(self) -> Markup:
        """Decisions with the option chosen and the reason."""
        rows = [(self._data.link(f"options.html#decision-{one.id}", one.name),
                 next(option.name for option in one.options if option.id == one.chosen), one.reason)
                for one in self._book.project.decisions]
        return html.table("", ("Decision", "Chosen", "Because"), rows, "words", "Decisions") if rows else html.paragraph("This project compares no options.")

    def options(self) -> Markup:
        """Every decision: reason, what each option gives up, and what comes out differently."""
        made = [self._data.heading(decision.name, f"decision-{decision.id}") + html.paragraph(decision.reason, class_="reason") + parts.gives_up(decision)
                + parts.option_checks(self._addresses, decision) + self._differing(decision) + html.bullets(self._option_links(decision))
                for decision in self._book.project.decisions]
        return html.join(made) or html.paragraph("This project compares no options.")

    def _differing(self, decision) -> Markup:
        differ = self._book.differing(decision.id)
        return exports.by_chapter(parts.option_table(self._addresses, decision, differ), len(differ))

    def _option_links(self, decision) -> list[Markup]:
        return [self._data.link(option_page(decision.id, option.id), f"Working of {option.name}")
                for option in decision.options if option.id != decision.chosen]

    def entries(self) -> Markup:
        """The entries of the sheet at hand."""
        return sheet.entries(self._addresses, self._shown)

    def open_assumptions(self) -> Markup:
        """Givens still to be confirmed."""
        made = parts.assumptions_table(self._addresses, self._book.assumptions(), self._turned, judged=True)
        return made or html.paragraph("Nothing that the project gives is marked as assumed.")

    def not_read(self) -> Markup:
        """Givens that no formula reads because a choice says otherwise."""
        return parts.unread_table(self._addresses, self._book.not_read) or html.paragraph("No choice keeps the formulas from what the project gives.")

    def defaults(self) -> Markup:
        """Defaults of the book that the project has not replaced."""
        pairs = [(value, governs.of_default(value, self._turned or ())) for value in self._book.defaults]
        rows = [(reference(self._addresses, value), parts.worst_cell(self._addresses, value.id),
                 number(self._addresses, value, mark=False) if not value.axes else default_shown(value),
                 *((governs.told(self._addresses, one, value.term.is_text),) if self._turned is not None else ()), self.source(value.term.source))
                for value, one in (governs.ranked(pairs) if self._turned is not None else pairs)]
        heads = ("Default", parts.worst_head(), "Value", *(("Turns a verdict",) if self._turned is not None else ()), "Source")
        return exports.by_chapter(self._table("Defaults in use", heads, rows, "words open"), len(rows)) or html.paragraph("No default is in use.")

    def ranking(self) -> Markup:
        """By what the lists of open numbers are ordered."""
        return html.paragraph(governs.ORDER if self._turned is not None else governs.NOT_SEARCHED)

    def weak_formulas(self) -> Markup:
        """Formulas that rest on memory or common practice."""
        rows = [(reference(self._addresses, value), parts.worst_cell(self._addresses, value.id), ", ".join(sorted(value.own_marks - {"assumed"})),
                 html.join(map(self.source, value.source_ids), "; "))
                for value in self._book.values.values() if value.origin in ("formula", "procedure") and value.own_marks - {"assumed"}]
        heads = ("Value", parts.worst_head(), html.tag("th", "How known", data_pick="How known"), "Source")
        return exports.by_chapter(self._table("Formulas from memory or common practice", heads, rows, "words open"), len(rows)) or html.paragraph("None.")

    def _table(self, words: str, heads: Sequence[str], rows: Sequence[tuple], class_: str = "words") -> Markup:
        """A table with its number; nothing without rows."""
        return html.table(caption(self._addresses, words), heads, rows, class_) if rows else html.EMPTY

    def undecided_checks(self) -> Markup:
        """Checks that wait for an input."""
        lines = [html.link(self._addresses.check_address(one.check), one.check.title) + f": {parts.missing_text(self._addresses, one)}"
                 for one in self._book.checks
                 if one.word == "undecided"]
        return html.bullets(lines) or html.paragraph("No check waits for an input.")

    def margins(self) -> Markup:
        """The figure of the checks that have least left to their limits."""
        return governs.margins(self._addresses)

    def first_to_settle(self) -> Markup:
        """The open numbers that turn a verdict soonest."""
        return governs.first(self._addresses, self._turned)

    def what_moves(self) -> Markup:
        """For each check that has little left the open numbers that move it most."""
        return governs.moved(self._addresses, self._turned)

    def worth(self) -> Markup:
        """What a small step of each open number does."""
        return governs.worth(self._addresses, self._turned)

    def chances(self) -> Markup:
        """Checks that inputs with a plus or minus reach."""
        return governs.chances(self._addresses)

    def used_sources(self) -> Markup:
        """Sources by kind, with how each is known and what rests on it."""
        used = self._used_sources()
        made = []
        for kind in KINDS:
            own = [name for name in used if sources()[name].kind == kind]
            if own:
                facts = [(html.tag("span", sources()[name].citation, id=self._data.place(source_anchor(name))), self._source_facts(name, used[name]))
                         for name in own]
                made.append(self._data.heading(kind.capitalize(), f"kind-{kind.replace(' ', '-')}") + html.definitions(facts, class_="cited"))
        return html.join(made)

    def _used_sources(self) -> dict[str, tuple[str, ...]]:
        """Source -> what rests on it, over all options; with the sources that pages of the book cite beside."""
        found: dict[str, dict] = {}
        for book in (self._book, *self._book.options.values()):
            for name, users in book.sources_used().items():
                found.setdefault(name, {}).update(dict.fromkeys(users))
        for name in self._cited:
            found.setdefault(name, {})
        return {name: tuple(users) for name, users in sorted(found.items())}

    def _source_facts(self, source_id: str, users: Iterable[str]) -> Markup:
        source, users = sources()[source_id], tuple(users)
        known = f"How known: {source.how_known}." if source.how_known != "not applicable" else ""
        links = [self._user(name) for name in users[:MANY]]
        more = f" and {len(users) - MANY} more" if len(users) > MANY else ""
        rests = escape("Rests on it: ") + html.join(links, ", ") + more if links else escape("No value of this project rests on it.")
        return html.join(filter(None, (known, as_sentence(source.note), rests)), " ")

    def _user(self, name: str) -> Markup:
        if name in self._book.values:
            return html.link(self._addresses.address(name), terms()[name].name)
        if check := self._book.made_check(name):
            return html.link(self._addresses.check_address(check), f"check: {check.title}")
        return escape(terms()[name].name + " (in an option)" if name in terms() else name)

    def symbols(self) -> Markup:
        """Terms of this book with symbol, meaning and units, by chapter."""
        made = []
        for chapter in self._book.chapters:
            if rows := kept(self._addresses, ("terms", chapter.id), partial(_of_terms, chapter_id=chapter.id)):
                heads = ("Symbol", "Name and meaning", "Unit")
                made.append(self._data.heading(chapter.title, f"of-{chapter.id}") + self._table(f"Terms of {chapter.title}", heads, rows))
        return exports.by_chapter(html.join(made), len(self._book.values))

    def codes(self) -> Markup:
        """Codes that the project has chosen."""
        return self._list("code", ("code_title", "code_edition", "code_use", "code_standing"), "The project has named no code yet.")

    def sign_off(self) -> Markup:
        """Who signs, and how much of it somebody still has to confirm or give."""
        answer = html.paragraph("Still open: ", html.tag("strong", self._book.still_open), ".")
        named = self._list("signature", ("signature_role", "signature_name", "signature_date"), "The project has named no signatories.")
        return named + registers.lines_to_sign(self._addresses, self._issue) + answer

    def _list(self, axis: str, names: Sequence[str], otherwise: str) -> Markup:
        if not self._book.items.get(axis):
            return html.paragraph(otherwise)
        return self.items(axis, *names)


@dataclass(frozen=True)
class Summary:
    """What the page of all books says about one."""

    slug: str
    name: str
    place: str
    document: str  # number and revision
    state: str  # to the last issue
    sets: tuple[str, str]  # in SI and in US units
    words: tuple[str, ...]
    worst: str
    still_open: str
    invented: bool


class ShelfFunctions:
    """Functions for the page of all books."""

    def __init__(self, summaries: Sequence[Summary], data: PageData):
        self._summaries, self._data = summaries, data

    def books(self) -> Markup:
        """All books with how their checks stand."""
        rows = [(html.join([self._data.link(f"{one.slug}/index.html", one.name), html.small(f" {one.place}")]),
                 html.join([html.tag("div", one.document), html.tag("div", one.state, class_="from")]), both(*one.sets), _counts(one.words), one.worst or "–",
                 one.still_open, "invented" if one.invented else "as given") for one in self._summaries]
        return html.table("", ("Book", "Document", "Sets", "Checks", "What wants attention first", "Still open", "Data"), rows, "words chapters",
                          "Books")


def summary(book: Book) -> Summary:
    """The line of one book on the page of all books."""
    revision = frame.text(book, "revision")
    document = ", ".join(filter(None, (frame.text(book, "document_number") or "no number", revision and f"revision\N{NO-BREAK SPACE}{revision}")))
    first = next(iter(cover.worst(book.checks)), None)
    return Summary(book.project.slug, book.project.name, frame.text(book, "place"), document, book.since.told if book.since else "not issued yet",
                   (_sets(book, "si"), _sets(book, "us")), tuple(verdict.word for verdict in book.checks),
                   f"{first.check.title}: {first.word}" if first else "", book.still_open, book.project.invented)


def _sets(book: Book, system: str) -> str:
    """Number, rated power and voltage of the sets, as far as the book has them."""
    number, power, voltage = (book.values[name].text(system).replace(" ", "\N{NO-BREAK SPACE}") if name in book.values else ""
                              for name in ("installed_sets", "set_rated_power", "generating_voltage"))
    return ", ".join(filter(None, ("\N{NO-BREAK SPACE}× ".join(filter(None, (number, power))), voltage))) or "–"


def _counts(words: Sequence[str]) -> Markup:
    """How many checks have each word, a word and its number on one line."""
    return html.join([sheet.verdict_word(word) + f"\N{NO-BREAK SPACE}{words.count(word)}" for word in WORDS if word in words], ", ")


def _of_terms(addresses: Addresses, chapter_id: str) -> list[Markup]:
    """A row for each Term of a chapter: symbol, name and meaning, unit."""
    return [html.row((symbol(value.term.symbol) or escape("–"), reference(addresses, value) + f": {value.term.meaning}", _units(value)))
            for value in addresses.book.of_chapter(chapter_id)]


def _units(value: Value) -> str:
    """The unit in which a value is shown; in both systems where they differ."""
    return "words" if value.term.is_text else ", ".join(dict.fromkeys(filter(None, map(value.unit_text, ("si", "us"))))) or "1"
