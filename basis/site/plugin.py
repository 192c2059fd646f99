"""The door of MkDocs: events, each a few lines that call the rest of this folder.

Everything is read, solved and rendered in `on_config`, before MkDocs empties the site folder, so a fault leaves the last
good site as it was. In `serve` faults become pages, and a save rewrites only the pages that changed.
"""
from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from pathlib import Path

from mkdocs.commands.build import get_context
from mkdocs.config.base import Config
from mkdocs.exceptions import ConfigurationError, MkDocsException, PluginError
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.toc import AnchorLink, TableOfContents
from mkdocs.utils import write_file

from basis.language.faults import of_system
from basis.reading.folder import EQUIPMENT
from basis.site import target
from basis.site.build_cache import BuildCache, Site, uncollected
from basis.site.pages import Page
from basis.site.render import template_folders, template_places
from basis.site.theme_files import PRINTED, SCRIPTS, THEME, own_sheets, sheets_of_theme

STYLE, SCRIPT = "assets/book.css", "assets/book.js"  # all of them, each as one file that every page loads
TURNING = "turning_points"  # in `extra` of mkdocs.yml: whether they are searched
NOT_SHIPPED = (  # no page loads them by themselves
    "assets/javascripts/", "sitemap.xml", *(f"assets/{name}" for name in (*(path.name for path in own_sheets()), *SCRIPTS)))
log = get_plugin_logger(__name__)


class Settings(Config):
    """Nothing to set: the projects are in docs_dir, templates of a team in `templates/` beside it."""


class BasisPlugin(BasePlugin[Settings]):
    """Turns the projects in docs_dir into the pages of the site."""

    def __init__(self):
        self.serving = False
        self.cache = BuildCache()
        self.site = Site()
        self.built = None  # what the last whole build left: environment, navigation, files, config

    def on_startup(self, *, command, dirty):
        """Being defined keeps this object, and with it what was solved, from one rebuild of `serve` to the next."""
        self.serving = self.cache.keep = self.cache.accompanied = command == "serve"
        self.cache.lasting = not self.serving  # which needs the parts of a page, too
        self.cache.data = False  # unless who calls says otherwise: MkDocs has one of this object for all builds of a process

    def on_shutdown(self):
        """Nothing of ours goes on running."""
        self.cache.end()

    def on_config(self, config):
        """Read, solve and render everything. Raises PluginError with all faults, or in `serve` makes pages of them."""
        if found := target.refusals(Path(config.site_dir), (Path(config.docs_dir), *template_places(Path(config.docs_dir)))):
            raise PluginError("\n".join(map(str, found)))
        if config.use_directory_urls:
            raise ConfigurationError("basis: set `use_directory_urls: false`, so that addresses are the same from a folder")
        config.theme.dirs.insert(0, str(THEME))
        config.extra_css[:0] = [*(f"assets/stylesheets/{path.name}" for path in sheets_of_theme()), STYLE]
        config.extra_javascript.append(SCRIPT)
        config.nav = [{"All books": "index.md"}]
        if not config.site_url or self.serving:
            config.theme.static_templates.discard("sitemap.xml")  # empty without an address, and it changes with the clock
        self.cache.turning = bool(config.extra.get(TURNING, self.cache.turning))
        self.site = self._make(config)
        return config

    def _make(self, config) -> Site:
        site = self.cache.make(Path(config.docs_dir), template_folders(Path(config.docs_dir)))
        if site.faults and not self.serving:
            raise PluginError("\n".join(["faults in the projects or templates:", *map(str, site.faults)]))
        for fault in site.faults:
            log.error(str(fault))
        return site

    def on_pre_build(self, *, config):
        """The folder is ours from here on: MkDocs empties it next."""
        with _in_words(config):
            target.begin(Path(config.site_dir))

    @event_priority(-100)
    def on_post_build(self, *, config):
        """Write down what the site holds, after other plugins have added theirs."""
        with _in_words(config):
            target.finish(Path(config.site_dir))

    def on_files(self, files, *, config):
        """Only what was generated, and what the theme needs; project text itself is not published."""
        kept = [file for file in files if _is_from_theme(file, config) and not _is_spare(file.src_uri)]
        made = [File.generated(config, _source(address), content="", inclusion=InclusionLevel.NOT_IN_NAV) for address in self.site.pages]
        data = [File.generated(config, address, content=text) for address, text in (_worn() | self.site.files).items()]
        return Files([*kept, *made, *data])

    def on_page_content(self, html, *, page, config, files):
        """Hand over the finished page."""
        _dress(page, self.site.pages[page.file.dest_uri])
        return page.content

    def on_env(self, env, *, config, files):
        """Keep what a quick rebuild needs; the theme's templates leave no empty lines, a kilobyte a page."""
        env.trim_blocks = env.lstrip_blocks = True
        self.built = {"env": env, "config": config, "files": files}
        return env

    def on_template_context(self, context, *, template_name, config):
        """The page for an address that is none has links from where it lies, and knows the root of the site beside (see its template)."""
        if template_name == "404.html":
            context["root"], context["base_url"] = f"{context['base_url'].rstrip('/')}/", "."
        return context

    def on_nav(self, nav, *, config, files):
        """Keep the navigation for a quick rebuild."""
        self.navigation = nav
        return nav

    def on_serve(self, server, *, config, builder):
        """Watch templates and data sheets too, and rebuild only what a save has changed."""
        sheets = Path(config.docs_dir).parent / EQUIPMENT
        for folder in (*template_folders(Path(config.docs_dir)), *([sheets] if sheets.is_dir() else [])):
            server.watch(str(folder))
        mkdocs_yml = Path(config.config_file_path)
        state = {"settings": mkdocs_yml.read_bytes()}

        def rebuild():
            with uncollected():  # until the pages have been sent
                try:
                    settings = mkdocs_yml.read_bytes()
                    if settings != state["settings"] or not self.refresh():
                        state["settings"] = settings
                        builder()
                except (OSError, MkDocsException) as refused:
                    log.error(f"not rebuilt: {refused}")
                finally:
                    _answer(server)

        server.builder = rebuild
        return server

    def refresh(self) -> bool:
        """Rewrite the pages that differ from the last build. False when pages came or went: that needs a whole build."""
        config, old = self.built["config"], self.site
        new = self._make(config)
        if set(new.pages) != set(old.pages) or set(new.files) != set(old.files):
            return False
        self.site = new
        changed = [address for address in new.pages if new.pages[address] != old.pages[address]]
        for address in changed:
            self._write(address)
        for address, text in new.files.items():
            if text != old.files[address]:
                write_file(text.encode(), str(Path(config.site_dir, address)))
        log.info(f"{len(changed)} pages rewritten")
        return True

    def _write(self, address: str) -> None:
        env, config, files = self.built["env"], self.built["config"], self.built["files"]
        page = files.get_file_from_path(_source(address)).page
        _dress(page, self.site.pages[address])
        context = get_context(self.navigation, files.documentation_pages(), config, page)
        html = env.get_template("main.html").render(context)
        write_file(html.encode("utf-8"), page.file.abs_dest_path)


@contextmanager
def _in_words(config) -> Iterator[None]:
    """What the system refuses, as MkDocs tells errors: without a stack trace."""
    try:
        yield
    except OSError as refused:
        raise PluginError(str(of_system(refused, config.site_dir))) from refused


def _answer(server) -> None:
    """Let the requests go on that wait for a rebuild: MkDocs lets them wait for ever after one that failed."""
    with server._epoch_cond:
        server._visible_epoch = server._wanted_epoch
        server._epoch_cond.notify_all()


def _source(address: str) -> str:
    """Name under which MkDocs knows the page."""
    return address.removesuffix(".html") + ".md"


def _worn() -> dict[str, str]:
    """The style sheet and the script of every page by address, from the files of this folder."""
    sheets = [f"@media print {{\n{text}}}\n" if path.name == PRINTED else text for path in own_sheets() for text in (path.read_text("utf-8"),)]
    return {STYLE: "".join(sheets), SCRIPT: "".join((THEME / "assets" / name).read_text("utf-8") for name in SCRIPTS)}


def _is_from_theme(file: File, config) -> bool:
    return not Path(file.abs_src_path).is_relative_to(config.docs_dir)


def _is_spare(address: str) -> bool:
    """Parts of the theme that would only make a copy of the site larger, and the unfilled form of the sitemap."""
    return address.endswith(".map") or address.startswith(NOT_SHIPPED)


def _dress(page, made: Page) -> None:
    """Give MkDocs' page the finished content, side lists and title; the theme writes the title as it is."""
    page.content = made.body
    page.meta = {"title": escape(made.title), "sidebar": made.sidebar, "foot": made.foot, "style": made.style}
    page.toc = TableOfContents([AnchorLink(made.title, "top", 1)])
