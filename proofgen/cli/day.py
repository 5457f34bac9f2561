"""The commands about the day and the year: where pieces stand, what to write, what is done."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from proofgen.cli.options import (
    ANYWAY,
    BOOK,
    BOOK_OPTIONS,
    DAY,
    DONE,
    LINE,
    LOG,
    ORDERS,
    WORKSHOP,
    options_of,
    with_,
)
from proofgen.progress import progress_line

if TYPE_CHECKING:
    pass


@click.command()
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


@click.command()
@with_(*BOOK_OPTIONS)
def message(book: Path, json: bool, **options: Any) -> int:
    """Print what to send with the pictures, an order at a time."""
    from proofgen.day import daybook
    from proofgen.told import day as day_report

    found = daybook.messages(book, options_of(**options), progress_line(sys.stderr))
    for each in found:
        for row in each.apart:
            click.echo(f"order {each.number}: row {row} stops; the message is without it", err=True)
    click.echo(day_report.messages_as_json(found) if json else day_report.messages_as_text(found))
    return DONE


def _noting(kind: str, help_: str) -> click.Command:
    """A command that notes what happened to orders."""

    @click.command(kind, help=help_)
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

    return noted


@click.command("next-year")
@with_(*BOOK_OPTIONS)
def next_year(book: Path, json: bool, **options: Any) -> int:
    """Write next season's order book from the buyers of this one."""
    from proofgen.day import daybook
    from proofgen.told import day as day_report

    file, found = daybook.next_season(book, options_of(**options), progress_line(sys.stderr))
    tell = day_report.following_as_json if json else day_report.following_as_text
    click.echo(tell(file, found))
    return DONE


@click.command()
@with_(click.argument("folder", type=click.Path(path_type=Path)), LOG)
def start(folder: Path) -> int:
    """Make a workshop's folder: order book, workshop file, places for own designs."""
    from proofgen.day import daybook

    for file in daybook.begin(folder):
        click.echo(str(file))
    return DONE


packed = _noting("packed", "Note that these orders are packed.")
collected = _noting("collected", "Note that these orders are handed over.")
