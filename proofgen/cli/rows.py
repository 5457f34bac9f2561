"""The commands that go through the rows of a book."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from proofgen.cli.options import (
    BOOK_OPTIONS,
    DONE,
    STOPPED,
    UNUSABLE,
    WRITE_BACK,
    options_of,
    with_,
)
from proofgen.progress import progress_line

if TYPE_CHECKING:
    from proofgen.day.pipeline import Run


@click.command()
@with_(*BOOK_OPTIONS, WRITE_BACK)
def check(book: Path, json: bool, **options: Any) -> int:
    """Say for every row whether it can be made: ready, look or stop."""
    from proofgen.day import pipeline

    return _print(pipeline.check(book, options_of(**options), progress_line(sys.stderr)), json)


@click.command()
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


@click.command()
@with_(
    *BOOK_OPTIONS,
    click.option("--all", "everything", is_flag=True, help="Every row that does not stop."),
)
def make(book: Path, json: bool, everything: bool, **options: Any) -> int:
    """Write the production vectors of rows whose Approved cell holds their proof code."""
    from proofgen.day import pipeline

    wanted, progress = options_of(**options), progress_line(sys.stderr)
    return _print(pipeline.make(book, wanted, progress, everything=everything), json)


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
