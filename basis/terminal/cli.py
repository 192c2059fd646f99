"""The command line: thin doors to reading, solving and the site. Exit codes: 0 good, 1 faults in the text, 2 wrong call,
3 failing design checks.
"""

from __future__ import annotations

import atexit
import datetime
import errno
import gc
import json
import os
import sys
from pathlib import Path

import click

from basis.language.faults import Fault, Faults, nearest_name, of_system
from basis.reading.folder import projects_in
from basis.terminal.first_facts import FactsCommand, drafted

EXIT_FAULTS, EXIT_CHECKS = 1, 3
GARBAGE_AFTER = 50_000  # objects: nearly all that a command makes lives to its end, and looking through them more often costs a tenth of its time
projects_option = click.option("--projects", default="projects", show_default=True, type=click.Path(path_type=Path),
                               help="Folder that holds the project folders.")
json_option = click.option("--json", "as_json", is_flag=True, help="Print plain data for programs.")
digits_option = click.option("--digits", type=click.IntRange(1, 17), help="So many significant digits in place of those of the book.")


class Doors(click.Group):
    """Tells Faults as lines, one each, and exits 1; no stack trace for what is wrong in somebody's text, nor for what the system refuses."""

    def invoke(self, context):
        if os.environ.get("NO_COLOR"):
            context.color = False
        try:
            return super().invoke(context)
        except Faults as wrong:
            found = wrong.faults
        except OSError as refused:
            if refused.errno == errno.EPIPE:  # whoever reads the output has seen enough
                raise
            found = (of_system(refused, f"basis {context.invoked_subcommand}"),)
        _tell_faults(found)
        context.exit(EXIT_FAULTS)


@click.group(cls=Doors, context_settings={"help_option_names": ["-h", "--help"]}, epilog="""\b
Examples:
  basis new bell-yard                  a project folder to fill in
  basis check                          faults and failing checks of all projects
  basis find louvre velocity           ids of what is called so, or nearly so
  basis show larkmere-hospital ventilation_airflow
  basis try ventilation_airflow heat_to_room='[180 kW]' outdoor_air_density='1.14 kg/m^3' \\
        air_heat_capacity='1006 J/(kg*K)' room_temperature_rise='11 K'
  basis build                          the book, into site/""")
@click.version_option(package_name="design-basis-book", prog_name="basis")
def main():
    """Design basis books of standby diesel plants, from plain text."""
    gc.set_threshold(GARBAGE_AFTER)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # its arrays are small, and copies of this process are at work beside it
    atexit.register(gc.freeze)  # the system takes all memory back at once: Python need not look through it for garbage before


@main.command(epilog="\b\nExample:\n  basis build --site public")
@projects_option
@click.option("--site", default="site", show_default=True, type=click.Path(path_type=Path), help="Folder for the finished book.")
@click.option("--config", type=click.Path(path_type=Path), help="A mkdocs.yml of your own; else the one here, else the packaged one.")
@click.option("--quick", is_flag=True, help="Without turning points, the search for which takes longer than solving, and without trials.")
@click.option("--data", is_flag=True, help="With each book as data beside its pages, linked from its first page: JSON, workbook, tables, calendar.")
def build(projects, site, config, quick, data):
    """Build the book of all projects. A failed build leaves the last good one in place."""
    from basis.site.building import build_site

    slugs = _slugs(projects, ())
    label = "Solving" if quick else "Solving, searching turning points"
    with click.progressbar(length=len(slugs), label=label, file=sys.stderr, hidden=not _terminal()) as bar:
        index = build_site(projects, site, config, lambda slug: bar.update(1), quick, _searched, data)
    click.echo(f"Open {index}")


@main.command(epilog="\b\nExample:\n  basis serve --port 8001")
@projects_option
@click.option("--port", default=8000, show_default=True, type=click.IntRange(1, 65535), help="Port on this machine.")
@click.option("--config", type=click.Path(path_type=Path), help="A mkdocs.yml of your own; else the one here, else the packaged one.")
@click.option("--turning", is_flag=True, help="Search turning points too: a save that moves them takes some seconds longer.")
def serve(projects, port, config, turning):
    """Show the book in a browser and refresh it at each save."""
    from basis.site.building import serve_site

    serve_site(projects, port, config, turning)


@main.command(epilog="\b\nExamples:\n  basis check\n  basis check larkmere-hospital --chapter ventilation --all\n  basis check --json\n"
              "  basis check --fail-on tight")
@click.argument("slugs", nargs=-1)
@click.option("--project", "more", multiple=True, metavar="SLUG", help="The same as SLUGS: this project only. May be given more than once.")
@click.option("--chapter", "chapters", multiple=True, metavar="ID", help="Checks of this chapter only. May be given more than once.")
@click.option("--all", "everything", is_flag=True, help="Also what holds, what has nothing to check, what nothing reads, requirements and questions.")
@projects_option
@json_option
@click.option("--fail-on", type=click.Choice(["fails", "tight", "undecided", "never"]), default="fails", show_default=True,
              help="The mildest verdict that makes the exit code 3: fails; tight adds tight ones; undecided adds those too.")
@click.option("--explained-ok", is_flag=True, help="A failing check that carries the project's remark does not count.")
def check(slugs, more, chapters, everything, projects, as_json, fail_on, explained_ok):
    """Tell faults, and checks that fail, are tight or undecided.

    Exits 1 for faults in the text or in issued records, 3 for design checks that fail. A check over a list without items has nothing to check: it
    counts neither for nor against. `basis show PROJECT CHECK` opens one by the id in brackets.
    """
    from basis.terminal.checks import check_lines, check_record, checked

    wanted = _slugs(projects, dict.fromkeys((*slugs, *more)))
    with click.progressbar(wanted, label="Solving", file=sys.stderr, hidden=not _terminal() or len(wanted) < 4) as bar:
        found = checked(projects, bar, chapters, fail_on, explained_ok)
    if as_json:
        _tell_json(check_record(found))
    else:
        _tell(check_lines(found, everything))
        if found.faults:
            _tell_faults(found.faults)
    if found.faults:
        raise SystemExit(EXIT_FAULTS)
    raise SystemExit(EXIT_CHECKS if found.against else 0)


@main.command(epilog="\b\nExamples:\n  basis find louvre velocity\n  basis find autonomy --json\n  basis find nec 310.16 --all")
@click.argument("words", nargs=-1, required=True)
@json_option
@click.option("--all", "everything", is_flag=True, help="All that fits, not the best only.")
def find(words, as_json, everything):
    """List what is called so, or nearly so, by id.

    Values, formulas, procedures, checks, tables, sources and input keys by id, name, symbol or meaning, the best first.
    A plural, a wrong letter and the beginning of a word are near enough. `basis show PROJECT ID` opens one with its numbers, `basis show ID` as the program
    has it, `basis try ID --help-inputs` tells how to run a formula, a procedure or the value that one yields.
    """
    from basis.terminal.finding import find as found_by
    from basis.terminal.finding import find_lines, find_record

    found = found_by(words)
    if as_json:
        _tell_json(find_record(found))
    else:
        _tell(find_lines(found, everything))


@main.command(epilog="\b\nExamples:\n  basis show larkmere-hospital ventilation_airflow\n"
              "  basis show larkmere-hospital louvre_face_velocity.intake_north --json\n"
              "  basis show larkmere-hospital opening_face          a check with both workings\n"
              "  basis show larkmere-hospital ventilation           a chapter: verdicts, what it reads from others\n"
              "  basis show nec-310-16-copper-75                    a table as the program has it\n"
              "  basis show larkmere-hospital set_rated_current --option generating_voltage_choice.low_voltage")
@click.argument("words", nargs=-1, required=True, metavar="[PROJECT] ID")
@projects_option
@click.option("--option", help="DECISION.OPTION: in that option instead of the chosen one.")
@json_option
@digits_option
def show(words, projects, option, as_json, digits):
    """Open a value with its working, a check or a chapter by its ID.

    So a procedure, a list, a table or a source. With the numbers of PROJECT, else as the program has it. PROJECT alone tells how its chapters stand.
    """
    from basis.terminal.opening import book_to_open, opened, opened_project, shown_lines, shown_record

    whole = len(words) == 1 and (projects / words[0]).is_dir()
    in_project = whole or len(words) == 2
    if len(words) > 2 or option and not in_project:
        raise click.UsageError("one project and one id, such as: basis show larkmere-hospital ventilation_airflow")
    book = book_to_open(projects / _slugs(projects, words[:1])[0], "" if whole else words[-1], option or "") if in_project else None
    found = [opened_project(book)] if whole else opened(words[-1], book, digits)
    if as_json:
        _tell_json(shown_record(found))
    else:
        _tell(shown_lines(found))


def _tell_json(data) -> None:
    click.echo(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False))


@main.command(name="try", epilog="\b\nExamples:\n  basis try air_pressure altitude='1600 m' --digits 9\n"
              "  basis try element_face_area element_opening='[item_2, item_1]' gross_area='[4 m^2, 9.5 m^2]'\n"
              "  basis try demand_power --help-inputs\n  basis try --list")
@click.argument("name", required=False)
@click.argument("quantities", nargs=-1)
@json_option
@digits_option
@click.option("--help-inputs", is_flag=True, help="Tell how each input is written, its range and default, with an example that runs.")
@click.option("--list", "listed", is_flag=True, help="List all formulas and procedures.")
def try_(name, quantities, as_json, digits, help_inputs, listed):
    """Run one formula or procedure by itself.

    It prints the working of NAME with QUANTITIES written as name='number unit'. NAME is its own id or that of a result. An input over items (openings,
    loads) is a list, '[4 m^2, 9.5 m^2]'; one that runs over two kinds of items, such as levels of sources by band, is a list of lists, '[[60 dB, 57 dB],
    [63 dB, 61 dB]]'. A word with a comma or a bracket stands in double quotes, an item to which an input refers is written item_1, item_2 and so
    on. What is left out takes its default.
    """
    from basis.terminal import trying

    if listed:
        return _tell(trying.listing_lines())
    if name is None:
        raise click.UsageError("which formula? `basis try --list` tells all, `basis find WORD` some")
    if help_inputs:
        return _tell(trying.inputs_lines(name))
    if wrong := [part for part in quantities if "=" not in part]:
        raise click.UsageError(f"'{wrong[0]}' is not written as name='number unit'")
    found = trying.tried(name, dict(part.partition("=")[::2] for part in quantities), digits)
    if as_json:
        _tell_json(trying.tried_record(*found))
    else:
        click.echo(trying.tried_lines(*found))


def _tell(lines) -> None:
    for line in lines:
        click.echo(line)


def _tell_faults(faults) -> None:
    for fault in faults:
        click.echo(str(fault), err=True)
    click.echo(f"{len(faults)} fault{'s' if len(faults) > 1 else ''}.", err=True)


@main.command(cls=FactsCommand, epilog="\b\nExamples:\n  basis new bell-yard --sets 3 --set-power '1600 kW' --load '2600 kW'\n"
              "  basis new bell-yard --chapters plant,loads,ventilation")
@click.argument("slug")
@projects_option
@click.option("--chapters", default="", metavar="ID,ID", help="Chapters of the book; all if left out.")
def new(slug, projects, chapters, **facts):
    """Make a project folder to fill in, or a first guess of a plant.

    Each key stands with its meaning, and with one fact or more with a first guess of the whole plant. Facts that are left out are asked for at a
    terminal; else they take what is usual. What is guessed is marked as assumed, with its rule.
    """
    from basis.terminal.starter import new_folder, write_starter

    book = tuple(filter(None, map(str.strip, chapters.split(","))))
    new_folder(projects, slug, book)  # told before anything is asked
    draft = drafted(slug, facts)
    here = Path.cwd()
    for path in write_starter(projects, slug, book, draft):
        click.echo(path.relative_to(here) if path.is_relative_to(here) else path)
    click.echo(f"Then: basis build, basis check {slug}" if draft else f"Fill in the keys, then: basis check {slug}")


@main.command(epilog="\b\nExample:\n  basis add bell-yard ventilation")
@click.argument("slug")
@click.argument("chapter")
@projects_option
def add(slug, chapter, projects):
    """Add a CHAPTER to a project, with a file to fill in.

    Its word is put into the list of chapters. Nothing else that you wrote is changed.
    """
    from basis.terminal.starter import add_chapter

    _tell(add_chapter(projects / _slugs(projects, (slug,))[0], chapter))


@main.command(epilog="\b\nExamples:\n  basis schema > projects/project.schema.json\n  basis schema equipment > equipment/equipment.schema.json")
@click.argument("of", type=click.Choice(["project", "equipment", "book"]), default="project")
def schema(of):
    """Print a JSON Schema of project files for an editor.

    An editor with a YAML language server then completes and checks them. `equipment` is the schema of makers' data sheets, `book` of the book.json of `export`.
    """
    from basis.chapters import catalogue
    from basis.export.book_data import schema_text
    from basis.reading.schema import EQUIPMENT, PROJECT
    from basis.terminal.json_schema import json_schema

    if of == "book":
        return click.echo(schema_text(), nl=False)
    click.echo(json.dumps(json_schema(catalogue(), EQUIPMENT if of == "equipment" else PROJECT), ensure_ascii=False, indent=1))


@main.command(epilog="\b\nExamples:\n  basis export larkmere-hospital\n  basis export larkmere-hospital json --to data\n"
              "  basis export larkmere-hospital xlsx csv --pages https://books.example/larkmere-hospital/")
@click.argument("slug")
@click.argument("kinds", nargs=-1, type=click.Choice(("json", "xlsx", "csv", "ics")))
@projects_option
@click.option("--to", type=click.Path(path_type=Path), help="Folder for the files; SLUG-data if left out. Files of the same names there are replaced.")
@click.option("--pages", default="", metavar="ADDRESS", help="Where the pages of the book stand, for the links in the files; beside them if left out.")
def export(slug, kinds, projects, to, pages):
    """Write a book as data for other programs.

    book.json with its schema, a workbook whose formulas run, tables in CSV, its days as a calendar; all KINDS if none is named.
    One number stands in book.json under values, its id, value_si; `basis show PROJECT ID --json` tells one value without a file.
    """
    import basis
    from basis.terminal.exporting import exported

    for path in exported(basis.load(projects / _slugs(projects, (slug,))[0]), kinds, to or Path(f"{slug}-data"), pages):
        click.echo(path)


@main.command(name="print", epilog="\b\nExamples:\n  basis print larkmere-hospital\n  basis print larkmere-hospital --sheets --paper letter --units us")
@click.argument("slug")
@projects_option
@click.option("--to", type=click.Path(path_type=Path), help="The PDF; SLUG.pdf if left out. One that this command made is replaced.")
@click.option("--paper", type=click.Choice(("a4", "letter"), case_sensitive=False), default="a4", show_default=True)
@click.option("--units", type=click.Choice(("si", "us", "both")), default="si", show_default=True)
@click.option("--sheets", is_flag=True, help="With the working of every number behind it, to which the numbers lead.")
@click.option("--quick", is_flag=True, help="Without the search for turning points.")
@click.option("--force", is_flag=True, help="Also over a file that this command did not make.")
def print_(slug, projects, to, paper, units, sheets, quick, force):
    """Print a whole book as one PDF.

    With bookmarks, contents with page numbers, and links. A browser on the path prints it without a window: Chromium or one of its kind.
    """
    from basis.terminal.printing import Wanted, printed

    click.echo(printed(projects / _slugs(projects, (slug,))[0], to or Path(f"{slug}.pdf"), Wanted(paper, units, sheets, not quick), force))


@main.command(epilog="\b\nExample:\n  basis issue larkmere-hospital C --note 'for construction' --date 2026-11-23 \\\n"
                     "        --role prepared=2026-11-20 --role checked=2026-11-23")
@click.argument("slug")
@click.argument("revision")
@projects_option
@click.option("--note", required=True, help="What this issue is for, or what it takes in.")
@click.option("--date", help="Day of the issue, as 2026-11-20; today if left out.")
@click.option("--role", "roles", multiple=True, metavar="ROLE=DATE", help="prepared, checked, verified or approved, and the day; no names of persons.")
def issue(slug, revision, projects, note, date, roles):
    """Write every number and verdict of a project as REVISION.

    The file is issued/REVISION.csv, to be committed beside the project's text. It is text, one fact a line, sealed; it never writes over an issue.
    Design checks that fail are recorded as such.
    """
    import basis
    from basis.record.issued import Role
    from basis.record.issuing import issue as issued
    from basis.terminal.checks import counted_words

    if wrong := [role for role in roles if "=" not in role]:
        raise click.UsageError(f"'{wrong[0]}' is not written as ROLE=DATE, such as prepared=2026-11-20")
    book = basis.load(projects / _slugs(projects, (slug,))[0])
    path = issued(book, revision, date or datetime.date.today().isoformat(), note, tuple(Role(*role.split("=", 1)) for role in roles))
    click.echo(f"{path}: to be committed beside the text of the project")
    click.echo(f"Revision {revision}: {len(book.values)} values; {counted_words(book.checks)}")


@main.command(epilog="""\b
Examples:
  basis compare larkmere-hospital              the last issue with the text as it stands
  basis compare larkmere-hospital B C --json
  basis compare larkmere-hospital origin/main --markdown""")
@click.argument("slug")
@click.argument("sides", nargs=-1, metavar="[OLD [NEW]]")
@projects_option
@json_option
@click.option("--markdown", "as_markdown", is_flag=True, help="Print a comment for a pull request.")
def compare(slug, sides, projects, as_json, as_markdown):
    """Tell what has changed between two states, and because of what.

    Exits 3 when a verdict got worse. OLD and NEW are issued revisions, or commits or tags of git, whose text is solved with this program. Left out, OLD
    is the last issue and NEW the text as it stands.
    """
    from basis.record.compare import compare as compared
    from basis.record.sides import sides_of
    from basis.terminal.compared import to_lines, to_markdown, to_record

    if len(sides) > 2:
        raise click.UsageError(f"two states are compared, not {len(sides)}")
    found = compared(*sides_of(projects / _slugs(projects, (slug,))[0], sides))
    if as_json:
        _tell_json(to_record(found))
    else:
        click.echo("\n".join(to_markdown(found) if as_markdown else to_lines(found)))
    raise SystemExit(EXIT_CHECKS if found.worse else 0)


def _slugs(projects: Path, wanted) -> list[str]:
    known = projects_in(projects, projects.as_posix())
    if unknown := [slug for slug in wanted if slug not in known]:
        raise Faults([Fault(projects.as_posix(), 0, f"no project '{slug}'", ", ".join(known), nearest_name(slug, known)) for slug in unknown])
    return list(wanted) or known


def _searched(slug: str, done: int, count: int) -> None:
    """On a terminal, in the line of the bar until that is drawn again: how many numbers have been moved in search of turning points."""
    if _terminal():
        click.echo(f"\r\033[K{slug}: {done} of {count} numbers moved" if done < count else "\r\033[K", nl=False, err=True)


def _terminal() -> bool:
    return sys.stderr.isatty()
