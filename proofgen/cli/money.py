"""The commands about money and the season."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from proofgen.cli.options import BOOK_OPTIONS, DAY, DONE, ORDER, options_of, with_
from proofgen.progress import progress_line

_MEASURED_LOSS = click.option(
    "--measured-loss",
    is_flag=True,
    help="Reckon with the season's own share of spoiled layers, not the workshop file's.",
)


@click.command()
@with_(
    *BOOK_OPTIONS,
    _MEASURED_LOSS,
    click.option(
        "--price-for-wage",
        "for_wage",
        is_flag=True,
        help="Also what each design and piece must cost to earn the wanted wage, priced or not.",
    ),
    click.option(
        "--sheets",
        "by_sheet",
        is_flag=True,
        help="Also a line a sheet: its board, its minutes, what its pieces bring in.",
    ),
)
def money(
    book: Path, json: bool, measured_loss: bool, for_wage: bool, by_sheet: bool, **options: Any
) -> int:
    """Reckon cost, price and profit of every row, order, and of the whole book."""
    from proofgen.books.accounts import book_accounts
    from proofgen.told import money as money_report

    found = book_accounts(
        book,
        options_of(**options),
        progress_line(sys.stderr),
        measured_loss=measured_loss,
        for_wage=for_wage,
        by_sheet=by_sheet,
    )
    in_full = bool(options["orders"])
    told = money_report.as_json(found) if json else money_report.as_text(found, in_full=in_full)
    click.echo(told)
    return DONE


@click.command()
@with_(
    *(each for each in BOOK_OPTIONS if each is not ORDER),
    _MEASURED_LOSS,
    click.option("--on", type=DAY, help="As if it were that day (YYYY-MM-DD), not today."),
)
def season(book: Path, json: bool, measured_loss: bool, on: datetime | None, **options: Any) -> int:
    """Write the season's report: what was sold and earned, by design and week, and how it went."""
    from proofgen.books.season import season
    from proofgen.told import season as season_report

    found = season(
        book,
        options_of(**options),
        progress_line(sys.stderr),
        (on or datetime.now()).date(),
        measured_loss=measured_loss,
    )
    click.echo(season_report.as_json(found) if json else season_report.as_text(found))
    return DONE
