"""The commands of sheets and stock."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from proofgen.cli.options import (
    BOOK,
    BOOK_OPTIONS,
    DAY,
    DONE,
    JSON,
    LOG,
    STOPPED,
    WORKSHOP,
    options_of,
    with_,
)
from proofgen.progress import progress_line

_FORM = (
    click.option(
        "--format",
        "formats",
        multiple=True,
        type=click.Choice(["svg", "dxf", "pdf"]),
        help="Of the files, svg by itself; may be repeated.",
    ),
    click.option(
        "--apart", is_flag=True, help="Engraving and cuts in files of their own, on one origin."
    ),
    click.option(
        "--manner",
        type=click.Choice(["piece", "operation"]),
        default="piece",
        help="Finish piece by piece, or all engraving and then all cuts.",
    ),
    click.option(
        "--hatch",
        type=click.Choice(["scan", "contour"]),
        default=None,
        help="Areas ready as lines; else closed fills.",
    ),
)
_ON = click.option("--on", type=DAY, help="As if it were that day (YYYY-MM-DD), not today.")


@click.command()
@with_(
    *BOOK_OPTIONS,
    *_FORM,
    click.option(
        "--seconds",
        type=click.FloatRange(min=1),
        help="Search no longer than about this; else until nothing better is found, and the same "
        "orders give the same sheets.",
    ),
    click.option("--ahead", is_flag=True, help="Also cut what is advised for the stock."),
    click.option("--again", is_flag=True, help="Also what is made already."),
    _ON,
)
def sheets(
    book: Path,
    json: bool,
    formats: tuple[str, ...],
    apart: bool,
    manner: str,
    hatch: str | None,
    seconds: float | None,
    ahead: bool,
    again: bool,
    on: datetime | None,
    **options: Any,
) -> int:
    """Lay all that is approved and not made on as few boards as can be, ready to be cut."""
    from proofgen.making.sheet_files import Form
    from proofgen.making.sheets import sheets
    from proofgen.making.wanting import Wish
    from proofgen.told import sheets as sheets_report

    form = Form(tuple(dict.fromkeys(formats)) or ("svg",), manner, apart, hatch or "")
    wish = Wish(seconds, ahead, again)
    today = (on or datetime.now()).date()
    progress = progress_line(sys.stderr)
    found = sheets(book, options_of(**options), wish, form, progress, today)
    click.echo(sheets_report.as_json(found) if json else sheets_report.as_text(found))
    return STOPPED if found.laying.too_large else DONE


@click.command()
@with_(
    BOOK,
    click.option(
        "--gone",
        multiple=True,
        metavar="ID",
        help="A remainder that is used or lost, or a board that was begun and is given up.",
    ),
    _ON,
    WORKSHOP,
    LOG,
    JSON,
)
def stock(
    book: Path, json: bool, gone: tuple[str, ...], on: datetime | None, **options: Any
) -> int:
    """Say what lies cut ahead, and which remainders of boards there are."""
    from proofgen.making.stock import stock as told
    from proofgen.told import stock as stock_report

    found = told(book, options_of(**options), gone, (on or datetime.now()).date())
    click.echo(stock_report.as_json(found) if json else stock_report.as_text(found))
    return DONE
