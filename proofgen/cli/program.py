"""The command line: parse, one call, print, exit code. Decides nothing.

Exit codes of every command: 0 done, 1 some rows stopped, 2 the book, workshop or call cannot be
used. Whatever takes long to import is imported inside the commands, so that --help is quick.
"""

from __future__ import annotations

import io
import logging
import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from proofgen.cli.bench import calibrate, made, redo, resume
from proofgen.cli.card import testcard
from proofgen.cli.money import money, season
from proofgen.cli.options import (
    ANYWAY,
    BOOK,
    BOOK_OPTIONS,
    DAY,
    DONE,
    JSON,
    LINE,
    LOG,
    ORDERS,
    STOPPED,
    UNUSABLE,
    WORKSHOP,
    WRITE_BACK,
    log,
    options_of,
    with_,
)
from proofgen.cli.sheets import sheets, stock
from proofgen.errors import UnusableError
from proofgen.progress import progress_line

if TYPE_CHECKING:
    from proofgen.day.pipeline import Run

# What a shell expects of a program that was interrupted: 128 + SIGINT (POSIX, 2.8.2).
_INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; the person sees sentences, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        code = _cli.main(arguments, prog_name="proofgen", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return UNUSABLE
    except UnusableError as error:
        log.info("unusable input", exc_info=True)
        return _say(str(error))
    except (click.Abort, KeyboardInterrupt):
        _say("interrupted.")
        return _INTERRUPTED
    except Exception as error:  # The only place that may: a bug of ours must end in a sentence.
        return _say_bug(error)
    return int(code or DONE)


def _say(sentence: str) -> int:
    click.echo(f"proofgen: {sentence}", err=True)
    return UNUSABLE


def _say_bug(error: Exception) -> int:
    log.critical("unexpected error", exc_info=error)
    file = next((h.baseFilename for h in log.handlers if isinstance(h, logging.FileHandler)), None)
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


@_cli.command()
@with_(*BOOK_OPTIONS, WRITE_BACK)
def check(book: Path, json: bool, **options: Any) -> int:
    """Say for every row whether it can be made: ready, look or stop."""
    from proofgen.day import pipeline

    return _print(pipeline.check(book, options_of(**options), progress_line(sys.stderr)), json)


@_cli.command()
@with_(
    *BOOK_OPTIONS,
    WRITE_BACK,
    click.option(
        "--pdf", is_flag=True, help="Also a page at true size per piece, a PDF per order."
    ),
)
def proof(book: Path, json: bool, **options: Any) -> int:
    """Check, and write a proof picture per row and a workbook of results."""
    from proofgen.day import pipeline

    return _print(pipeline.proof(book, options_of(**options), progress_line(sys.stderr)), json)


@_cli.command()
@with_(
    *BOOK_OPTIONS,
    click.option("--all", "everything", is_flag=True, help="Every row that does not stop."),
)
def make(book: Path, json: bool, everything: bool, **options: Any) -> int:
    """Write the production vectors of rows whose Approved cell holds their proof code."""
    from proofgen.day import pipeline

    wanted, progress = options_of(**options), progress_line(sys.stderr)
    return _print(pipeline.make(book, wanted, progress, everything=everything), json)


@_cli.command()
@with_(
    *BOOK_OPTIONS,
    click.option("--on", type=DAY, help="As if it were that day (YYYY-MM-DD), not today."),
    click.option("--by", type=DAY, help="Say whether one more can be handed over by that day."),
)
def status(book: Path, json: bool, on: datetime | None, by: datetime | None, **options: Any) -> int:
    """Say where every piece stands: waiting, approved, made, owed, late."""
    from proofgen.day import daybook
    from proofgen.told import day as day_report

    today = (on or datetime.now()).date()
    progress = progress_line(sys.stderr)
    day = daybook.status(book, options_of(**options), progress, today, by.date() if by else None)
    click.echo(day_report.as_json(day) if json else day_report.as_text(day))
    return DONE


@_cli.command()
@with_(*BOOK_OPTIONS)
def message(book: Path, json: bool, **options: Any) -> int:
    """Print what to send with the pictures, an order at a time."""
    from proofgen.day import daybook
    from proofgen.told import day as day_report

    found = daybook.messages(book, options_of(**options), progress_line(sys.stderr))
    click.echo(day_report.messages_as_json(found) if json else day_report.messages_as_text(found))
    return DONE


def _noting(kind: str, help_: str) -> None:
    """A command that notes what happened to orders."""

    @_cli.command(kind, help=help_)
    @with_(BOOK, ORDERS, LINE, ANYWAY, WORKSHOP, LOG)
    def noted(
        book: Path, orders: tuple[str, ...], line: int, anyway: bool, workshop: Path | None
    ) -> int:
        from proofgen.day import daybook
        from proofgen.day.pipeline import Options

        wanted = Options(orders=orders, workshop=workshop)
        found = daybook.note(
            kind, book, wanted, progress_line(sys.stderr), line=line, anyway=anyway
        )
        orders_ = (item.made.order for item in found)
        names = ", ".join(f"{order.number} {order.field('name')}".strip() for order in orders_)
        click.echo(f"{len(found)} {'line' if len(found) == 1 else 'lines'} {kind}: {names}")
        return DONE


@_cli.command("next-year")
@with_(*BOOK_OPTIONS)
def next_year(book: Path, json: bool, **options: Any) -> int:
    """Write next season's order book from the buyers of this one."""
    from proofgen.day import daybook
    from proofgen.told import day as day_report

    file, found = daybook.next_season(book, options_of(**options), progress_line(sys.stderr))
    tell = day_report.following_as_json if json else day_report.following_as_text
    click.echo(tell(file, found))
    return DONE


@_cli.command()
@with_(click.argument("folder", type=click.Path(path_type=Path)), LOG)
def start(folder: Path) -> int:
    """Make a workshop's folder: order book, workshop file, places for own designs."""
    from proofgen.day import daybook

    for file in daybook.begin(folder):
        click.echo(str(file))
    return DONE


_noting("packed", "Note that these orders are packed.")
_noting("collected", "Note that these orders are handed over.")


@_cli.group(invoke_without_command=True)
@with_(WORKSHOP, LOG, JSON, click.pass_context)
def designs(context: click.Context, workshop: Path | None, json: bool) -> int:
    """List the designs with their slots and limits, or check one that you drew."""
    from proofgen.day import pipeline
    from proofgen.told import rows as report

    if context.invoked_subcommand:
        return DONE
    shop = pipeline.designs(pipeline.Options(workshop=workshop))
    found = shop.templates.values()
    click.echo(report.designs_as_json(found) if json else report.designs_as_text(found))
    for design, said in shop.broken.items():
        click.echo(f"{design} cannot be used: {said}", err=True)
    for symbol in dict.fromkeys(each for design in found for each in design.broken_symbols):
        click.echo(f"the symbol {symbol.id} cannot be used: {symbol.fault}", err=True)
    return DONE


@designs.command("check")
@with_(
    click.argument("folder", type=click.Path(path_type=Path)),
    click.option("--picture", type=click.Path(path_type=Path), help="Draw a sample proof there."),
    click.option("--text", "texts", multiple=True, metavar="FIELD=TEXT", help="For the sample."),
    WORKSHOP,
    LOG,
    JSON,
)
def check_design(
    folder: Path,
    picture: Path | None,
    texts: tuple[str, ...],
    workshop: Path | None,
    json: bool,
) -> int:
    """Say what is wrong with a design folder, before an order comes for it."""
    from proofgen.day import pipeline
    from proofgen.flags.flag import stops
    from proofgen.told import rows as report

    wanted = pipeline.Options(workshop=workshop)
    flags = pipeline.check_design(folder, dict(_pairs(texts)), picture, wanted)
    click.echo(report.findings_as_json(flags) if json else report.findings_as_text(flags))
    return STOPPED if stops(flags) else DONE


@_cli.command()
@with_(
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
    WORKSHOP,
    LOG,
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
    from proofgen.day import pipeline
    from proofgen.day.choices import as_text, choices as drawn

    own = (("name", name), ("year", year), ("finish", finish))
    told = [(column, text) for column, text in own if text is not None]
    found = drawn([*told, *_pairs(texts)], out, pipeline.Options(workshop=workshop))
    click.echo(as_text(found))
    return DONE


def _pairs(texts: tuple[str, ...]) -> list[tuple[str, str]]:
    for text in texts:
        if not text.partition("=")[2]:
            raise UnusableError(f"--text {text}: write FIELD=TEXT, such as name=Katherine.")
    return [(field, text) for field, _, text in (each.partition("=") for each in texts)]


def _print(run: Run, json: bool) -> int:
    from proofgen.told import rows as report

    click.echo(report.as_json(run) if json else report.as_text(run))
    if json and run.flags:
        # The object has rows only, and what was found about the book must not go unseen.
        click.echo(report.book_as_text(run), err=True)
    if run.not_written:
        return UNUSABLE
    stopped = any(made.verdict == "stop" for made in run.rows)
    return STOPPED if stopped else DONE


for _command in (calibrate, made, redo, resume, sheets, stock, money, season, testcard):
    _cli.add_command(_command)
