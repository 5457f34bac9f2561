"""How to ask for the files of a sheet where another way to engrave is quicker."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from proofgen.making.sheet_files import Form, Planned


def asked_for(sheet: Planned, way: str) -> str:
    """What to say, or to leave out, so that the sheet is engraved that way; empty where nothing
    does that alone.
    """
    told = (
        words
        for words, form in _changes(sheet.form)
        if replace(sheet, form=form).expected.way == way
    )
    return next(told, "")


def _changes(form: Form) -> Iterator[tuple[str, Form]]:
    """Other forms, the least change first."""
    yield "without --hatch", replace(form, hatch="")
    yield "--manner piece", replace(form, manner="piece")
    yield "--manner operation", replace(form, manner="operation")
    yield "without --apart", replace(form, apart=False)
    yield "--hatch contour", replace(form, hatch="contour")
    yield "--hatch scan", replace(form, hatch="scan")
    yield "--manner operation, without --hatch", replace(form, manner="operation", hatch="")
