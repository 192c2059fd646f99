"""The build cache: what was made last time. A project whose text has not changed is not solved again; of one that has, only what has changed is made again."""
from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from basis.language.faults import Fault, Faults, of_system
from basis.language.user_cache import digest_of_paths
from basis.reading.equipment import sheet_files
from basis.reading.folder import SLUG, projects_in
from basis.reading.project import read
from basis.record.history import History, history_of
from basis.record.marks import since
from basis.site import lasting_books, links, pages, worker_processes
from basis.site.addresses import Workshop
from basis.site.help import HELP, pages_of_help
from basis.site.page_data import PageData
from basis.site.pages import BookPages, Page, Tried
from basis.site.read_tracker import Asked
from basis.site.render import shown_path
from basis.solving.book import Book
from basis.solving.solve import Solution, solution
from basis.solving.trials import with_trials

OUTER = ("index.html", *(address for address, _ in HELP.values()))  # pages that belong to no book


@dataclass(frozen=True)
class Site:
    """All pages by address, data files by address, and what is wrong."""

    pages: dict[str, Page] = field(default_factory=dict)
    files: dict[str, str | bytes] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True)
class Done:
    """What was made from one project, the digest of what it was made from, and the parts by place."""

    digest: str
    made: BookPages | None
    faults: tuple[Fault, ...] = ()
    parts: dict = field(default_factory=dict)
    solution: Solution | None = None
    history: History | None = None


class BuildCache:
    """Keeps layouts and projects from one build to the next, in this object only. `keep`: parts of pages too, for `serve`. `lasting`: books that earlier
    runs made are taken as they are. `turning`: turning points are searched and trials run. `data`: each book stands beside its pages as data, too.
    `accompanied`: a copy of this process keeps half of the parts and makes what rests on them, where the system can copy one; to be ended by `end`.
    """

    def __init__(self, keep: bool = False, turning: bool = False, data: bool = False, lasting: bool = False, accompanied: bool = False):
        self.keep, self.turning, self.data, self.lasting, self.accompanied = keep, turning, data, lasting, accompanied
        self.companion: worker_processes.Companion | None = None
        self.beside: dict[str, dict[str, Tried]] = {}  # what the companion has told of each project, page by page, on its side too
        self.searched: Callable[[str, int, int], None] = lambda slug, done, count: None  # hears how far the search of a project is
        self.folders: tuple[Path, ...] = ()  # of templates
        self.layouts: tuple[str, dict] = ("", {})
        self.help: dict[str, Page] = {}  # pages that hang on the templates alone
        self.kept: dict[str, Done] = {}
        self.turned: dict[str, dict] = {}  # turning points of each project, by what they rest on
        self.asked: dict[str, Asked] = {}  # of the books of each project, for their pages
        self.notes: dict = {}  # what is the same in every book: formulas as MathML, citations

    def make(self, projects: Path, folders: tuple[Path, ...], progress: Callable[[str], None] = lambda slug: None) -> Site:
        """The whole site. Never raises Faults: they are in the Site. `progress` is called with each project that is ready."""
        try:
            stamp = _stamp(folders)
            places = [shown_path(projects / slug) for slug in projects_in(projects, shown_path(projects).as_posix())]
            digests = {folder: self._digest(folder, stamp) for folder in places}
            kept = {folder.name: done for folder, digest in digests.items() if (done := self._done(folder, digest))}
            changed = {folder: digest for folder, digest in digests.items() if folder.name not in kept}
            self._read_layouts(folders, stamp, bool(changed))
            if self.accompanied and not self.companion:
                self.companion = worker_processes.companion(self._made_beside)
        except Faults as wrong:
            return self._site(wrong.faults, spoilt=True)
        self.kept = dict(sorted((kept | self._made(changed, progress)).items()))
        return self._site([fault for kept in self.kept.values() for fault in kept.faults])

    def end(self) -> None:
        """Let the companion go."""
        if self.companion:
            self.companion.end()
        self.companion = None

    def _read_layouts(self, folders: tuple[Path, ...], stamp: str, books: bool) -> None:
        """What the templates in these folders are; `books`: whether any book will be made."""
        self.folders = folders
        if stamp != self.layouts[0]:
            with uncollected():  # all that is loaded here stays
                self.layouts = (stamp, pages.layouts(folders, pages.load_what_books_need if books else lambda: None))
            self.help = {page.address: page for page in pages_of_help(self.layouts[1])}

    def _made(self, digests: dict[Path, str], progress: Callable[[str], None]) -> dict[str, Done]:
        """These projects, each with the digest of its text, made anew."""
        made = {}
        changed = sorted(digests, key=_size, reverse=True)  # the longest work first
        few = len(changed) <= worker_processes.processors()  # so that pages of one project are worth sharing out
        one_by_one = ((folder, self._project(folder, digests[folder], False)) for folder in changed)  # what will be asked for again stays here
        for folder, done in one_by_one if self.keep else worker_processes.each(lambda folder: self._project(folder, digests[folder], few), changed):
            made[folder.name] = done
            progress(folder.name)
        return made

    def _digest(self, folder: Path, templates: str) -> str:
        """Of all that a book is made from beside the program, where its text lies among it; `templates` is the digest of those."""
        files = [*sorted(path for path in folder.rglob("*") if path.is_file()), *sheet_files(folder)]
        return f"{folder.as_posix()} {templates} {self.data} {self.turning} {digest_of_paths(files)}"

    def _done(self, folder: Path, now: str) -> Done | None:
        """What was made of a project as it stands, here or by an earlier run; None where nothing was."""
        if (done := self.kept.get(folder.name)) and done.digest == now:
            return done
        made = lasting_books.recall(folder.name, now) if self.lasting else None
        return Done(now, made) if made else None

    def _project(self, folder: Path, now: str, helped: bool) -> Done:
        """One project; `helped` when a processor may be free to work for it."""
        old = self.kept.get(folder.name) or Done(now, None)
        try:
            workshop = self._workshop(folder.name, old.parts, helped, self._begun_beside(folder, now))
            with uncollected():
                solved, history, book = _solved(folder, old)
                turned = pages.search(solved.book, workshop)  # copies of this process search while it runs the trials
                made = pages.of_book(with_trials(book, solved.run, solved.memory) if self.turning else book, self.layouts[1], workshop, history, turned)
                links.check({address: page.data for address, page in made.pages.items()} | dict.fromkeys(OUTER, PageData()), made.files, self._written())
        except (Faults, OSError) as wrong:
            found = wrong.faults if isinstance(wrong, Faults) else (of_system(wrong, folder.as_posix()),)
            return replace(old, digest=now, faults=found)
        if self.lasting and self._digest(folder, self.layouts[0]) == now:  # nobody saved it meanwhile
            lasting_books.keep(made, now)
        return Done(now, made, (), old.parts, *((solved, history) if self.keep else ()))

    def _workshop(self, slug: str, parts: dict, helped: bool = False, beside: Callable[[], dict] = dict) -> Workshop:
        return Workshop(notes=self.notes, kept=parts, asked=self.asked.setdefault(slug, Asked()), keep=self.keep, helped=helped, beside=beside,
                        turning=self.turning, data=self.data, turned=self.turned.setdefault(slug, {}), searched=partial(self.searched, slug))

    def _begun_beside(self, folder: Path, now: str) -> Callable[[], dict[str, Tried]]:
        """Have the companion, if there is one, make its pages of a project; what is returned waits for them."""
        if not self.companion:
            return dict
        before = self.beside.pop(folder.name, None)  # if nobody waits for what it tells now, all will be told anew
        self.companion.begin((folder, now, self.folders, before is None))

        def ended() -> dict[str, Tried]:
            if (new := self.companion.result()) is not None:
                self.beside[folder.name] = (before or {}) | new
            return self.beside.get(folder.name, {})
        return ended

    def _made_beside(self, asked: tuple[Path, str, tuple[Path, ...], bool]) -> dict[str, Tried] | None:
        """In the companion: its pages of a project, but for those that are as it has told them before. None where its text or a template is at fault, or is
        not what was asked for any more: the other side has to see to that.
        """
        folder, now, folders, anew = asked
        old, told = self.kept.get(folder.name) or Done(now, None), {} if anew else self.beside[folder.name]
        try:
            self._read_layouts(folders, _stamp(folders), True)
            with uncollected():
                solved, history, book = _solved(folder, old)
                made = pages.beside(book, self.layouts[1], self._workshop(folder.name, old.parts), history)
            if self._digest(folder, self.layouts[0]) != now:
                return None
        except (Faults, OSError):
            return None
        self.kept[folder.name] = replace(old, digest=now, solution=solved, history=history)
        self.beside[folder.name] = told | made
        return {name: one for name, one in made.items() if name not in told or not _same(told[name], one)}

    def _site(self, faults: Iterable[Fault], spoilt: bool = False) -> Site:
        """Pages of what could be made; a project with faults shows them on each page that it had."""
        faults = tuple(sorted(set(faults)))
        made, files, summaries = {}, {}, []
        for slug, kept in self.kept.items():
            wrong = faults if spoilt else kept.faults
            if kept.made:
                files |= kept.made.files
                summaries.append(kept.made.summary)
            if wrong:
                addresses = kept.made.pages if kept.made else (f"{slug}/index.html",) if SLUG.fullmatch(slug) else ()
                made |= {address: pages.fault_page(address, wrong) for address in addresses}
            elif kept.made:
                made |= kept.made.pages
        if faults:
            made |= self.help | {"index.html": pages.fault_page("index.html", faults)}
        else:
            try:
                made |= self.help | {"index.html": pages.index(summaries, self.layouts[1])}
                links.check({address: page.data if address in OUTER else PageData() for address, page in made.items()}, files, self._written())
            except Faults as wrong:
                return self._site(wrong.faults)
        return Site(made, files, faults)

    def _written(self) -> dict:
        """Ids and links that templates write -> template and line."""
        return {place: (layout.file, line) for layout in self.layouts[1].values() for place, line in layout.places.items()}


@contextmanager
def uncollected() -> Iterator[None]:
    """Without garbage collection: a book is a million objects that stay, and looking through them takes a tenth of a second each time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _stamp(folders: Iterable[Path]) -> str:
    """Digest of all templates in these folders."""
    return digest_of_paths(path for folder in folders for path in sorted(folder.iterdir()) if path.is_file())


def _solved(folder: Path, old: Done) -> tuple[Solution, History, Book]:
    """A project with what was issued of it, and its book with what differs from that. Raises Faults, or OSError."""
    solved = solution(read(folder), before=old.solution)
    history = history_of(solved.book, old.history)
    return solved, history, replace(solved.book, since=since(history))


def _same(one: Tried, other: Tried) -> bool:
    """Whether this is the very same page, with as much beside it."""
    (page, content), (other_page, other_content) = one[0] or (None, None), other[0] or (None, None)
    return page is not None and page is other_page and content == other_content


def _size(folder: Path) -> int:
    return sum(path.stat().st_size for path in folder.glob("*.y*ml"))
