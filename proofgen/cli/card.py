"""The commands of the test card."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from proofgen.cli.options import DONE, JSON, LOG, MATERIAL, WORKSHOP, options_of, with_
from proofgen.errors import UnusableError

if TYPE_CHECKING:
    from proofgen.testcard.reading import Answer, Question


@click.group(invoke_without_command=True)
@with_(
    MATERIAL,
    click.option("--out", metavar="DIR", type=click.Path(path_type=Path), help="Else this folder."),
    WORKSHOP,
    LOG,
    click.pass_context,
)
def testcard(context: click.Context, material: str, out: Path | None, workshop: Path | None) -> int:
    """Write a test card for your machine and wood, and a sheet to read it by."""
    if context.invoked_subcommand:
        if material or out or workshop:
            raise click.UsageError("Write the options after the word read.", context)
        return DONE
    from proofgen.making import testcards

    for file in testcards.write_card(material, options_of(out=out, workshop=workshop)):
        click.echo(str(file))
    return DONE


@testcard.command("read")
@with_(
    click.argument("answers", required=False, type=click.Path(path_type=Path)),
    MATERIAL,
    WORKSHOP,
    LOG,
    JSON,
)
def read_card(answers: Path | None, material: str, workshop: Path | None, json: bool) -> int:
    """Write what you saw on the card into the workshop file: asked here, or from a filled sheet."""
    from proofgen.making import testcards

    options = options_of(workshop=workshop)
    if answers:
        written = testcards.read_file(answers, material, options)
    else:
        reading = testcards.open_reading(material, options)
        said = f"{reading.material.title} ({reading.material.id}). Enter keeps what is; "
        said += "what is in (brackets) is beyond the card."
        click.echo(said, err=json)
        found: dict[tuple[str, bool], Answer] = {}
        for question in reading.questions:
            asked = testcards.as_asked(question, found, reading)
            answer = _ask(asked, err=json) if asked else None
            if answer:
                found[question.mark, question.good] = answer
        written = testcards.take_down(found, reading)
    click.echo(testcards.as_json(written) if json else testcards.as_text(written))
    return DONE


def _ask(question: Question, err: bool) -> Answer | None:
    """The number that was typed, None where Enter keeps the old one; asked again until it fits."""
    from proofgen.testcard.reading import Answer, number_of

    def read(text: str) -> Answer | None:
        try:
            return Answer(number_of(text, question, question.mark), question.text) if text else None
        except UnusableError as error:
            raise click.BadParameter(str(error)) from None

    said = f"{question.text} ({question.least:g} to {question.most:g}) [{question.until_now}]"
    found: Answer | None = click.prompt(
        said, default="", show_default=False, value_proc=read, err=err
    )
    return found
