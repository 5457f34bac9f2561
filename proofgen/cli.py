"""The command line: parse, one call, print, exit code. Decides nothing.

Exit codes of every command: 0 done, 1 some rows stopped, 2 the book, workshop or call cannot be
used. Whatever takes long to import is imported inside the commands, so that --help is quick.
"""

from __future__ import annotations

import io
import logging
import re
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from json import dumps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from proofgen.errors import UnusableError
from proofgen.progress import progress_line

if TYPE_CHECKING:
    from proofgen.pipeline import Options, Run

Command = Callable[..., Any]

_DONE, _STOPPED, _UNUSABLE = 0, 1, 2
# What a shell expects of a program that was interrupted: 128 + SIGINT (POSIX, 2.8.2).
_INTERRUPTED = 130

_log = logging.getLogger("proofgen")

# How a line of our log begins.
_OURS = re.compile(rb"\d{4}-\d\d-\d\d [\d:,]+ [A-Z]+ proofgen")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; the person sees sentences, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        code = _cli.main(arguments, prog_name="proofgen", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return _UNUSABLE
    except UnusableError as error:
        _log.info("unusable input", exc_info=True)
        return _say(str(error))
    except (click.Abort, KeyboardInterrupt):
        _say("interrupted.")
        return _INTERRUPTED
    except Exception as error:  # The only place that may: a bug of ours must end in a sentence.
        return _say_bug(error)
    return int(code or _DONE)


def _say(sentence: str) -> int:
    click.echo(f"proofgen: {sentence}", err=True)
    return _UNUSABLE


def _say_bug(error: Exception) -> int:
    _log.critical("unexpected error", exc_info=error)
    file = next((h.baseFilename for h in _log.handlers if isinstance(h, logging.FileHandler)), None)
    what = f"{type(error).__name__}: {error}".splitlines()[0]
    if file:
        return _say(f"this is a mistake of the program's ({what}); please send us {file}.")
    return _say(
        f"this is a mistake of the program's ({what}); run the same command with --log FILE and "
        "send us that file."
    )


@click.group()
@click.version_option(package_name="proofgen", message="%(prog)s %(version)s")
def _cli() -> None:
    """From a sheet of orders to proofs and production art for wooden keepsakes."""


def _log_to(_context: click.Context, _parameter: click.Parameter, file: Path | None) -> None:
    for old in tuple(_log.handlers):
        _log.removeHandler(old)
        old.close()
    _log.propagate = False
    _log.addHandler(logging.NullHandler() if file is None else _log_file(file))
    _log.setLevel(logging.DEBUG)


def _log_file(file: Path) -> logging.Handler:
    """A log that may replace an older one of ours, and nothing else."""
    try:
        begun = file.read_bytes()[:200] if file.exists() else b""
        if begun and not _OURS.match(begun):
            raise UnusableError(f"{file} is there already and is no log; name another file for it.")
        handler = logging.FileHandler(file, mode="w", encoding="utf-8")
    except OSError as error:
        raise UnusableError(f"{file}: cannot be written ({error.strerror}).") from None
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    return handler


_BOOK = click.argument("book", type=click.Path(path_type=Path))
_WORKSHOP = click.option(
    "--workshop",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Workshop file; else workshop.toml beside the book; else the defaults that ship.",
)
_LOG = click.option(
    "--log",
    metavar="FILE",
    type=click.Path(path_type=Path),
    callback=_log_to,
    expose_value=False,
    is_eager=True,
    help="Write down what is done, and the details of an error.",
)
_JSON = click.option("--json", "json", is_flag=True, help="Print one JSON object, nothing else.")
_WRITE_BACK = click.option(
    "--write-back",
    is_flag=True,
    help="Put verdict, remedy and code into columns of the book itself, after a backup of it.",
)
_BOOK_OPTIONS = (
    _BOOK,
    click.option("--order", "orders", multiple=True, help="Only this order; may be repeated."),
    click.option(
        "--out",
        metavar="DIR",
        type=click.Path(path_type=Path),
        help="Folder for what is written; else beside the book.",
    ),
    _WORKSHOP,
    click.option("--sheet", default="", metavar="NAME", help="Where several sheets hold orders."),
    click.option("--skip-hidden", is_flag=True, help="Leave out hidden and filtered rows."),
    click.option(
        "--jobs",
        metavar="N",
        type=click.IntRange(min=0),
        default=0,
        help="Processes to work with; 0, as by itself, for what suits.",
    ),
    _LOG,
    _JSON,
)


def _with(*decorators: Command) -> Command:
    def decorate(command: Command) -> Command:
        for decorator in reversed(decorators):
            command = decorator(command)
        return command

    return decorate


@_cli.command()
@_with(*_BOOK_OPTIONS, _WRITE_BACK)
def check(book: Path, json: bool, **options: Any) -> int:
    """Say for every row whether it can be made: ready, look or stop."""
    from proofgen import pipeline

    return _print(pipeline.check(book, _options(**options), progress_line(sys.stderr)), json)


@_cli.command()
@_with(
    *_BOOK_OPTIONS,
    _WRITE_BACK,
    click.option(
        "--pdf", is_flag=True, help="Also a page at true size per piece, a PDF per order."
    ),
)
def proof(book: Path, json: bool, **options: Any) -> int:
    """Check, and write a proof picture per row and a workbook of results."""
    from proofgen import pipeline

    return _print(pipeline.proof(book, _options(**options), progress_line(sys.stderr)), json)


@_cli.command()
@_with(
    *_BOOK_OPTIONS,
    click.option("--all", "everything", is_flag=True, help="Every row that does not stop."),
)
def make(book: Path, json: bool, everything: bool, **options: Any) -> int:
    """Write the production vectors of rows whose Approved cell holds their proof code."""
    from proofgen import pipeline

    wanted, progress = _options(**options), progress_line(sys.stderr)
    return _print(pipeline.make(book, wanted, progress, everything=everything), json)


_DAY = click.DateTime(formats=["%Y-%m-%d"])
_ORDERS = click.argument("orders", nargs=-1)


@_cli.command()
@_with(
    *_BOOK_OPTIONS,
    click.option("--on", type=_DAY, help="As if it were that day (YYYY-MM-DD), not today."),
    click.option("--by", type=_DAY, help="Say whether one more can be handed over by that day."),
)
def status(book: Path, json: bool, on: datetime | None, by: datetime | None, **options: Any) -> int:
    """Say where every piece stands: waiting, approved, made, owed, late."""
    from proofgen import day_report, daybook

    today = (on or datetime.now()).date()
    progress = progress_line(sys.stderr)
    day = daybook.status(book, _options(**options), progress, today, by.date() if by else None)
    click.echo(day_report.as_json(day) if json else day_report.as_text(day))
    return _DONE


@_cli.command()
@_with(*_BOOK_OPTIONS)
def message(book: Path, json: bool, **options: Any) -> int:
    """Print what to send with the pictures, an order at a time."""
    from proofgen import day_report, daybook

    found = daybook.messages(book, _options(**options), progress_line(sys.stderr))
    click.echo(day_report.messages_as_json(found) if json else day_report.messages_as_text(found))
    return _DONE


def _noting(kind: str, help_: str) -> None:
    """A command that notes what happened to orders."""

    @_cli.command(kind, help=help_)
    @_with(_BOOK, _ORDERS, _WORKSHOP, _LOG)
    def noted(book: Path, orders: tuple[str, ...], workshop: Path | None) -> int:
        from proofgen import daybook
        from proofgen.pipeline import Options

        wanted = Options(orders=orders, workshop=workshop)
        events = daybook.note(kind, book, wanted, progress_line(sys.stderr))
        click.echo(f"{len(events)} {'line' if len(events) == 1 else 'lines'} {kind}")
        return _DONE


@_cli.command("next-year")
@_with(*_BOOK_OPTIONS)
def next_year(book: Path, json: bool, **options: Any) -> int:
    """Write next season's order book from the buyers of this one."""
    from proofgen import daybook

    file, count = daybook.next_season(book, _options(**options), progress_line(sys.stderr))
    if json:
        click.echo(f'{{"version": 1, "book": {dumps(str(file))}, "rows": {count}}}')
    else:
        click.echo(f"{count} {'row' if count == 1 else 'rows'} in {file}")
        click.echo("Set edition_year in the workshop file when you begin it.")
    return _DONE


@_cli.command()
@_with(click.argument("folder", type=click.Path(path_type=Path)), _LOG)
def start(folder: Path) -> int:
    """Make a workshop's folder: order book, workshop file, places for own designs."""
    from proofgen import daybook

    for file in daybook.begin(folder):
        click.echo(str(file))
    return _DONE


_noting("made", "Note that the pieces of these orders are cut and glued.")
_noting("packed", "Note that these orders are packed.")
_noting("collected", "Note that these orders are handed over.")


@_cli.group(invoke_without_command=True)
@_with(_WORKSHOP, _LOG, _JSON, click.pass_context)
def designs(context: click.Context, workshop: Path | None, json: bool) -> int:
    """List the designs with their slots and limits, or check one that you drew."""
    from proofgen import pipeline, report

    if context.invoked_subcommand:
        return _DONE
    shop = pipeline.designs(pipeline.Options(workshop=workshop))
    found = shop.templates.values()
    click.echo(report.designs_as_json(found) if json else report.designs_as_text(found))
    for design, said in shop.broken.items():
        click.echo(f"{design} cannot be used: {said}", err=True)
    for symbol in dict.fromkeys(each for design in found for each in design.broken_symbols):
        click.echo(f"the symbol {symbol.id} cannot be used: {symbol.fault}", err=True)
    return _DONE


@designs.command("check")
@_with(
    click.argument("folder", type=click.Path(path_type=Path)),
    click.option("--picture", type=click.Path(path_type=Path), help="Draw a sample proof there."),
    click.option("--text", "texts", multiple=True, metavar="FIELD=TEXT", help="For the sample."),
    _WORKSHOP,
    _LOG,
    _JSON,
)
def check_design(
    folder: Path,
    picture: Path | None,
    texts: tuple[str, ...],
    workshop: Path | None,
    json: bool,
) -> int:
    """Say what is wrong with a design folder, before an order comes for it."""
    from proofgen import pipeline, report
    from proofgen.flags.flag import stops

    wanted = pipeline.Options(workshop=workshop)
    flags = pipeline.check_design(folder, _texts(texts), picture, wanted)
    click.echo(report.findings_as_json(flags) if json else report.findings_as_text(flags))
    return _STOPPED if stops(flags) else _DONE


@_cli.command()
@_with(
    click.option("--name", metavar="NAME", help="On every design; without it, the advert."),
    click.option("--year", metavar="YEAR", help="Else the edition's."),
    click.option("--text", "texts", multiple=True, metavar="FIELD=TEXT", help="Further texts."),
    click.option("--finish", help="Where a design has it; else each design's first."),
    click.option(
        "--out",
        metavar="FILE",
        type=click.Path(path_type=Path),
        help="The picture; else choices.png or advert.png here.",
    ),
    _WORKSHOP,
    _LOG,
)
def choices(
    name: str | None,
    year: str | None,
    texts: tuple[str, ...],
    finish: str | None,
    out: Path | None,
    workshop: Path | None,
) -> int:
    """Draw one name on every design of the catalogue, numbered and priced, for a first answer."""
    from proofgen import pipeline
    from proofgen.choices import as_text, choices as drawn

    told = {"name": name, "year": year, "finish": finish}
    known = {column: text for column, text in told.items() if text is not None}
    found = drawn({**known, **_texts(texts)}, out, pipeline.Options(workshop=workshop))
    click.echo(as_text(found))
    return _DONE


def _texts(texts: tuple[str, ...]) -> dict[str, str]:
    for text in texts:
        if not text.partition("=")[2]:
            raise UnusableError(f"--text {text}: write FIELD=TEXT, such as name=Katherine.")
    return {field: text for field, _, text in (each.partition("=") for each in texts)}


def _options(**options: Any) -> Options:
    from proofgen import pipeline

    return pipeline.Options(**options)


def _print(run: Run, json: bool) -> int:
    from proofgen import report

    click.echo(report.as_json(run) if json else report.as_text(run))
    if json and run.flags:
        # The object has rows only, and what was found about the book must not go unseen.
        click.echo(report.book_as_text(run), err=True)
    stopped = any(made.verdict == "stop" for made in run.rows)
    return _STOPPED if stopped else _DONE
