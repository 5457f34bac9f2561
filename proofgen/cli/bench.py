"""The commands of the bench: made, redo, resume."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from proofgen.cli.options import ANYWAY, BOOK, DONE, LINE, LOG, WORKSHOP, options_of, with_
from proofgen.progress import progress_line

if TYPE_CHECKING:
    from proofgen.making.completing import Noted

_WHY = click.option("--why", default="", metavar="TEXT", help="What went wrong, in a few words.")


@click.command()
@with_(
    BOOK,
    click.argument("names", nargs=-1),
    click.option(
        "--order", "orders", multiple=True, help="An order, even if it is called like a sheet."
    ),
    LINE,
    click.option("--count", type=click.IntRange(min=1), help="So many copies, else all of them."),
    ANYWAY,
    WORKSHOP,
    LOG,
)
def made(
    book: Path,
    names: tuple[str, ...],
    orders: tuple[str, ...],
    line: int,
    count: int | None,
    anyway: bool,
    workshop: Path | None,
) -> int:
    """Note sheets (S-0001), orders, or some pieces of an order that are cut; layers from stock are
    taken off it.
    """
    from proofgen.making import bench

    progress, share = progress_line(sys.stderr), bench.Share(line, count or 0)
    options = options_of(orders=orders, workshop=workshop)
    return _say(bench.made(book, names, options, progress, share, anyway=anyway))


@click.command()
@with_(
    BOOK,
    click.argument("order"),
    LINE,
    click.option("--count", type=click.IntRange(min=1), default=1, help="So many copies, else 1."),
    click.option("--layer", "layers", multiple=True, metavar="NAME", help="Else all of them."),
    _WHY,
    WORKSHOP,
    LOG,
)
def redo(
    book: Path,
    order: str,
    line: int,
    count: int,
    layers: tuple[str, ...],
    why: str,
    workshop: Path | None,
) -> int:
    """Queue a spoiled piece, or layers of it, to be cut again under the same approval."""
    from proofgen.making import redoing
    from proofgen.making.bench import Share

    wanted, progress = options_of(workshop=workshop), progress_line(sys.stderr)
    found = redoing.redo(book, order, Share(line, count), layers, why, wanted, progress)
    whose = " ".join(filter(None, found.pieces[0]))
    what = ", ".join(found.again)
    click.echo(f"{_layers(found.layers)} of order {whose} to be cut again: {what}")
    return DONE


@click.command()
@with_(
    BOOK,
    click.argument("sheet"),
    click.option("--done", type=int, required=True, help="Pieces that came free, by their order."),
    click.option("--lost", type=int, multiple=True, metavar="N", help="One of them is spoiled."),
    _WHY,
    click.option(
        "--engraved",
        is_flag=True,
        help="Nothing came free, but what is engraved before the first cut is done.",
    ),
    click.option("--anyway", is_flag=True, help="Also what is noted as cut already."),
    click.option("--out", type=click.Path(path_type=Path), metavar="DIR", help="Else its own."),
    WORKSHOP,
    LOG,
)
def resume(
    book: Path,
    sheet: str,
    done: int,
    lost: tuple[int, ...],
    why: str,
    engraved: bool,
    anyway: bool,
    out: Path | None,
    workshop: Path | None,
) -> int:
    """After a sheet that failed half-way: note what came out, write a file of what is left."""
    from proofgen.making import resuming

    options = options_of(out=out, workshop=workshop)
    found = resuming.resume(
        *(book, sheet, done, lost, why, options, progress_line(sys.stderr)),
        engraved=engraved,
        anyway=anyway,
    )
    for line in (*filter(None, [found.mended]), *found.aside, *map(str, found.files)):
        click.echo(line)
    for number, piece in enumerate(found.left, 1):
        click.echo(f"{number:5}  {piece}")
    if found.jobs:
        click.echo(f"what to do at the bench: {found.jobs[0]}, or {found.jobs[1].name} on a screen")
    if found.again:
        click.echo(f"to be cut again, on the next sheets: {'; '.join(found.again)}")
    for stale in found.stale:
        click.echo(f"{stale} is out of date and was moved away: lay what is left with sheets")
    return _say(found)


@click.command()
@with_(
    BOOK,
    click.argument("timed", nargs=-1, metavar="S-0001=35:20 S-0002=41:05"),
    click.option(
        "--way",
        type=click.Choice(["sheet", "piece", "contour"]),
        help="How they were engraved, if not as written: rows across the sheet, across each piece, "
        "or along outlines.",
    ),
    WORKSHOP,
    LOG,
)
def calibrate(book: Path, timed: tuple[str, ...], way: str | None, workshop: Path | None) -> int:
    """Fit the clock to sheets that you timed, minutes and seconds each."""
    from proofgen.making import calibrating

    found = calibrating.calibrated(book, timed, way, options_of(workshop=workshop))
    click.echo(calibrating.as_text(found))
    return DONE


def _say(found: Noted) -> int:
    told = [f"{_layers(found.layers)} noted"]
    for what, pieces in (("made", found.pieces), ("made already", found.before)):
        if pieces:
            told.append(f"{what}: {', '.join(f'{number} {name}' for number, name in pieces)}")
    told += (f"{e.order} {e.name}: {e.made} of {e.quantity} made" for e in found.partly)
    click.echo("\n".join(["; ".join(told), *found.surplus, *found.unlike, *found.twice]))
    return DONE


def _layers(count: int) -> str:
    return f"{count} layer{'' if count == 1 else 's'}"
