"""The commands about designs: which there are, one that a person drew, a name on all of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from proofgen.cli.options import (
    DONE,
    JSON,
    LOG,
    STOPPED,
    WORKSHOP,
    with_,
)
from proofgen.errors import UnusableError

if TYPE_CHECKING:
    pass


@click.group(invoke_without_command=True)
@with_(WORKSHOP, LOG, JSON, click.pass_context)
def designs(context: click.Context, workshop: Path | None, json: bool) -> int:
    """List the designs with their slots and limits, or check one that you drew."""
    from proofgen.day import design_check, pipeline
    from proofgen.told import rows as report

    if context.invoked_subcommand:
        return DONE
    shop = design_check.designs(pipeline.Options(workshop=workshop))
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
    from proofgen.day import design_check, pipeline
    from proofgen.flags.flag import stops
    from proofgen.told import rows as report

    wanted = pipeline.Options(workshop=workshop)
    flags = design_check.check_design(folder, dict(_pairs(texts)), picture, wanted)
    click.echo(report.findings_as_json(flags) if json else report.findings_as_text(flags))
    return STOPPED if stops(flags) else DONE


@click.command()
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
