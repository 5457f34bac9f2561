"""The commands about money and the season."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from proofgen.cli_options import BOOK_OPTIONS, DONE, options_of, with_
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
        help="Also what each design must cost to earn the wanted wage.",
    ),
)
def money(book: Path, json: bool, measured_loss: bool, for_wage: bool, **options: Any) -> int:
    """Reckon cost, price and profit of every row, order, and of the whole book."""
    from proofgen import money_report
    from proofgen.accounts_command import book_accounts

    found = book_accounts(
        book,
        options_of(**options),
        progress_line(sys.stderr),
        measured_loss=measured_loss,
        for_wage=for_wage,
    )
    in_full = bool(options["orders"])
    told = money_report.as_json(found) if json else money_report.as_text(found, in_full=in_full)
    click.echo(told)
    return DONE
