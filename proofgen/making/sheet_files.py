"""The files of sheets that are to be cut, and the time that each takes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.rows import Progress
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Affine
from proofgen.production.clock import CONTOUR, PIECE, SHEET, Times, clock
from proofgen.production.hatch import hatched
from proofgen.production.plan import plan
from proofgen.production.steps import Laid, Plan, SheetArt
from proofgen.production.verify import faults
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.kept_places import kept_places
from proofgen.workshop.workshop import Workshop

FORMATS = ("svg", "dxf", "pdf")
_NAME = re.compile(
    rf"S-\d{{4,}}((-back)?(-engrave|-cut)?\.({'|'.join(FORMATS)})|-jobs\.(pdf|html))"
)
# The layer that lies there, and the width of its whole piece in mm.
Find = Callable[[Lies], tuple[Layer, float]]


@dataclass(frozen=True, slots=True)
class Form:
    """How sheets are written. `manner` is "piece" or "operation"; with `apart`, engraving and cuts
    are files of their own on one origin; `hatch` is "scan" or "contour" for areas ready as lines,
    or empty for closed fills.
    """

    formats: tuple[str, ...] = ("svg",)
    manner: str = "piece"
    apart: bool = False
    hatch: str = ""


@dataclass(frozen=True, slots=True)
class Planned:
    """A sheet in its order of work. `back` is the engraving of its other side, or None: it comes
    first, the sheet turned over left to right. `times` are those of the ways to engrave, both
    sides together; `form` says how it is written, `workshop` how that is set up for it.
    """

    job: Job
    front: Plan
    back: Plan | None
    times: tuple[Times, ...]
    form: Form
    workshop: Workshop

    @property
    def expected(self) -> Times:
        """The times of the files as they are written.

        Areas that are one group are filled in rows across the board (common practice, no source);
        those that are lines already are engraved one by one.
        """
        form = self.form
        way = CONTOUR if form.hatch == "contour" else PIECE
        if not form.hatch and (form.manner == "operation" or (form.apart and self._in_one())):
            way = SHEET
        return next(each for each in self.times if each.way == way)

    @property
    def sides(self) -> tuple[Plan, ...]:
        """The front, and the back where there is one."""
        return (self.front, self.back) if self.back else (self.front,)

    def _in_one(self) -> bool:
        """Whether the areas are one group in a file that has the engraving alone."""
        runs = groupby(step.operation for step in self.front.part("engrave").steps)
        return sum(operation == "engrave-area" for operation, _ in runs) <= 1

    def in_order(self) -> tuple[Lies, ...]:
        """What lies on the sheet, as it comes free."""
        first = dict.fromkeys(step.piece for step in self.front.steps if step.frees)
        return tuple(self.job.lies[i] for i in dict.fromkeys((*first, *range(len(self.job.lies)))))


def planned(job: Job, find: Find, workshop: Workshop, form: Form) -> Planned:
    """The steps of a sheet, and how long they take."""
    size = workshop.material(job.wood.material).board
    places = tuple(each.grown(size.gap) for each in kept_places(size))
    art = SheetArt(job.width, job.height, _laid(job, find), keep_out=places)
    front = plan(art, form.manner, workshop)
    times = _times(front, form, workshop)
    turned = tuple(_turned(each, job, find) for each in job.lies)
    if all(mark.side == "front" for each in turned for mark in each.layer.marks):
        return Planned(job, front, None, times, form, workshop)
    back = plan(SheetArt(job.width, job.height, turned, "back"), form.manner, workshop)
    together = tuple(map(_together, times, clock(back, workshop.motion)))
    return Planned(job, front, back, together, form, workshop)


def _times(front: Plan, form: Form, workshop: Workshop) -> tuple[Times, ...]:
    """Of files apart, one after the other: all is engraved before the first piece comes free."""
    if not form.apart:
        return clock(front, workshop.motion)
    parts = (clock(front.part(each), workshop.motion) for each in ("engrave", "cut"))
    return tuple(replace(_together(*each), acceptable=True) for each in zip(*parts, strict=True))


def _together(one: Times, other: Times) -> Times:
    return Times(
        one.way,
        one.engraving + other.engraving,
        one.cutting + other.cutting,
        one.travel + other.travel,
        one.pierce + other.pierce,
        one.acceptable,
    )


def drawn_sheets(sheets: Sequence[Planned], progress: Progress) -> tuple[dict[str, bytes], ...]:
    """The files of each sheet, by their names.

    UnusableError for a sheet whose cuts, as they would be written, may not be made.
    """
    found: list[dict[str, bytes]] = []
    for number, sheet in enumerate(sheets, 1):
        _refuse_faults(sheet)
        found.append(dict(_files(sheet)))
        progress(number, len(sheets))
    return tuple(found)


def _files(sheet: Planned) -> Iterator[tuple[str, bytes]]:
    form, workshop = sheet.form, sheet.workshop
    apart = ("cut",) if "front" in sheet.job.engraved else ("engrave", "cut")
    plans = [("", sheet.front, apart if form.apart else ("all",))]
    if sheet.back:
        plans.append(("-back", sheet.back, ("all",)))
    for side, steps, parts in plans:
        steps = hatched(steps, form.hatch, workshop.motion.pitch) if form.hatch else steps
        for part in parts:
            which = "" if part == "all" else f"-{part}"
            for kind in form.formats:
                yield f"{sheet.job.id}{side}{which}.{kind}", _drawn(steps, kind, part, workshop)


def _drawn(steps: Plan, kind: str, part: str, workshop: Workshop) -> bytes:
    if kind == "dxf":
        from proofgen.production.sheet_dxf import sheet_dxf

        return sheet_dxf(steps, workshop, part)
    if kind == "pdf":
        from proofgen.production.sheet_pdf import sheet_pdf

        return sheet_pdf(steps, workshop, part)
    from proofgen.production.sheet_svg import sheet_svg

    return sheet_svg(steps, workshop, part).encode("utf-8")


def _laid(job: Job, find: Find) -> tuple[Laid, ...]:
    return tuple(
        Laid(job.still(find(each)[0]), each.placed().affine(), label(each)) for each in job.lies
    )


def in_the_way(sheet: Planned, workshop: Workshop) -> str:
    """Why a sheet may not be cut as the machine is set up in that workshop; empty where it may."""
    kept = kept_places(workshop.material(sheet.job.wood.material).board)
    return next((fault for side in sheet.sides for fault in faults(side, kept)), "")


def _refuse_faults(sheet: Planned) -> None:
    """The workshop file may ask for cuts that the board was not laid for."""
    fault = in_the_way(sheet, sheet.workshop)
    if fault:
        raise UnusableError(
            f"{sheet.job.id}: {fault}; make kerf, lead_in or overcut smaller or the gap larger in "
            "the workshop file, as [machine], [cutting] and [board]."
        )


def _turned(lies: Lies, job: Job, find: Find) -> Laid:
    """The layer as it lies once the sheet is turned over left to right.

    Marks of the back are drawn as they are seen once the piece is turned about its upright middle.
    """
    layer, width = find(lies)
    there = Affine(-1, 0, 0, 1, width, 0).then(lies.placed().affine())
    return Laid(job.still(layer), there.then(Affine(-1, 0, 0, 1, job.width, 0)), label(lies))


def label(lies: Lies) -> str:
    """What a person knows a piece on a sheet by."""
    whose = "stock" if lies.ahead else f"{lies.number} {lies.name}".strip()
    copy = f" ({lies.copy})" if lies.copy > 1 else ""
    return f"{whose}, {lies.layer}{copy}"


def sheet_files(out: Path) -> tuple[str, ...]:
    """The names of all files of sheets in the folder, and of job sheets of some orders; of none
    that the maker calls otherwise.
    """
    found = (path for path in out.glob("S-*") if _NAME.fullmatch(path.name) and path.is_file())
    return tuple(sorted(path.name for path in found))


def sheet_of(name: str) -> str:
    """The id of the sheet that a file is of."""
    return name[: len("S-0000")]
