"""What the commands do that make the test card and take down what was read off it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from json import dumps
from pathlib import Path

from proofgen.day.rows import Options, home_in
from proofgen.day.shop import open_bench
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.making.workshop_file import set_numbers
from proofgen.testcard.reading import Answers, Change, Question, changes, notes, questions
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Material, Workshop


@dataclass(frozen=True, slots=True)
class Reading:
    """A card about to be read: the workshop file, which may be yet to come, and what is asked."""

    file: Path
    workshop: Workshop
    material: Material
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True)
class Written:
    """What a reading changed; `backup` is None where nothing was there before, or changed. `notes`
    say what it did not change.
    """

    file: Path
    material: Material
    changes: tuple[Change, ...]
    backup: Path | None
    notes: tuple[str, ...] = ()


def write_card(wanted: str, options: Options) -> tuple[Path, ...]:
    """Write the card, the page to read it by and the workbook to fill; gives their paths."""
    from proofgen.production.svg import drawing
    from proofgen.testcard.answers_book import answers_book
    from proofgen.testcard.card import test_card
    from proofgen.testcard.sheet import reading_sheet

    reading = open_reading(wanted, options)
    material, workshop = reading.material, reading.workshop
    card = test_card(material, open_bench(home_in(Path.cwd(), options)))
    said = drawing(f"Test card, {material.title}", card.size, card.layer, workshop)
    stem = (options.out or Path.cwd()).resolve() / f"testcard-{material.id}"
    files = {
        stem.with_name(f"{stem.name}.svg"): said.encode("utf-8"),
        stem.with_name(f"{stem.name}.pdf"): reading_sheet(card, reading.questions, workshop),
        stem.with_name(f"{stem.name}.xlsx"): answers_book(reading.questions, material),
    }
    for path, data in files.items():
        write_bytes(path, data)
    return tuple(files)


def open_reading(wanted: str, options: Options) -> Reading:
    """What is asked of a card; the material of that id, or the workshop's first one."""
    home = home_in(Path.cwd(), options)
    workshop = load(home.workshop)
    known = [material.id for material in workshop.materials]
    if wanted and wanted not in known:
        there = ", ".join(known)
        raise UnusableError(f"--material {wanted}: there is {there} in {workshop.source}.")
    material = workshop.material(wanted or known[0])
    if material.unsafe:
        raise UnusableError(
            f"{workshop.source}: {material.id} must not be cut ({material.unsafe}), so there is no "
            "test card of it; choose another with --material."
        )
    file = home.workshop or Path.cwd() / "workshop.toml"
    return Reading(file, workshop, material, questions(workshop, material))


def as_asked(question: Question, answers: Answers, reading: Reading) -> Question | None:
    """The question in view of earlier answers: what looks good is no smaller than what came out;
    None where the card then shows nothing to choose from.
    """
    if not question.good:
        return question
    whole = next(q for q in reading.questions if q.mark == question.mark)
    said = answers.get((question.mark, False))
    least = max(question.least, said.number if said else whole.now)
    return replace(question, least=least) if least <= question.most else None


def read_file(path: Path, wanted: str, options: Options) -> Written:
    """Take down a filled sheet, for the material that it says unless another one was asked for."""
    from proofgen.testcard.answers import Filled

    filled = Filled(path)
    if wanted and filled.material and wanted != filled.material:
        raise UnusableError(
            f"{path.name} is the sheet of {filled.material}, not of {wanted}: name another file."
        )
    reading = open_reading(wanted or filled.material, options)
    return take_down(filled.answers(reading.questions), reading)


def take_down(answers: Answers, reading: Reading) -> Written:
    """Write what the answers change into the workshop file, after a backup of it."""
    found = changes(answers, reading.workshop, reading.material)
    file, material = reading.file, reading.material
    said = notes(answers, reading.workshop, material)
    backup = set_numbers(file, {change.key: change.now for change in found}) if found else None
    return Written(file, material, found, backup, said)


def as_text(written: Written) -> str:
    """Old and new side by side."""
    if not written.changes:
        nothing = f"Nothing differs from what {written.file} says; it was not written to."
        return "\n".join([nothing, *written.notes])
    names = [".".join(change.key) for change in written.changes]
    wide = max(map(len, names))
    lines = [f"{written.material.title}, in {written.file}:", f"{'':{wide}}      was      now"]
    lines += [
        f"{name:{wide}} {change.was:8g} {change.now:8g}"
        for name, change in zip(names, written.changes, strict=True)
    ]
    if written.backup:
        lines.append(f"The old file is {written.backup}.")
    return "\n".join([*lines, *written.notes])


def as_json(written: Written) -> str:
    """The same for other programs."""
    found = [{"key": list(c.key), "was": c.was, "now": c.now} for c in written.changes]
    return dumps(
        {
            "version": 1,
            "file": str(written.file),
            "material": written.material.id,
            "backup": str(written.backup) if written.backup else None,
            "changes": found,
            "notes": list(written.notes),
        },
        ensure_ascii=False,
    )
