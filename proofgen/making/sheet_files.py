"""The files of sheets that are to be cut, and the time that each takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.rows import Progress
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.geometry.affine import Affine
from proofgen.geometry.rect import Rect
from proofgen.production.clock import CONTOUR, PIECE, SHEET, Times, clock
from proofgen.production.hatch import hatched
from proofgen.production.plan import plan
from proofgen.production.steps import Laid, Plan, SheetArt
from proofgen.production.verify import faults
from proofgen.sheets.job import Job, Lies
from proofgen.workshop.workshop import Workshop

FORMATS = ("svg", "dxf", "pdf")
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
    sides together; `hatch` says how areas are written, `apart` that cuts have files of their own
    (see Form).
    """

    job: Job
    front: Plan
    back: Plan | None
    times: tuple[Times, ...]
    hatch: str = ""
    apart: bool = False

    @property
    def expected(self) -> Times:
        """The times of the files as they are written.

        Areas that are one group are filled in rows across the board (common practice, no source);
        those that are lines already are engraved one by one.
        """
        way = CONTOUR if self.hatch == "contour" else PIECE
        if self.front.manner == "operation" and not self.hatch:
            way = SHEET
        return next(each for each in self.times if each.way == way)

    @property
    def sides(self) -> tuple[Plan, ...]:
        """The front, and the back where there is one."""
        return (self.front, self.back) if self.back else (self.front,)

    def in_order(self) -> tuple[Lies, ...]:
        """What lies on the sheet, as it comes free."""
        first = dict.fromkeys(step.piece for step in self.front.steps if step.frees)
        return tuple(self.job.lies[i] for i in dict.fromkeys((*first, *range(len(self.job.lies)))))


def planned(
    job: Job, find: Find, workshop: Workshop, manner: str, hatch: str = "", apart: bool = False
) -> Planned:
    """The steps of a sheet, and how long they take."""
    kept = _kept_out(job, workshop, workshop.material(job.wood.material).board.gap)
    art = SheetArt(job.width, job.height, _laid(job, find), keep_out=kept)
    front = plan(art, manner, workshop)
    times = clock(front, workshop.motion)
    if apart:
        # All is engraved before the first piece comes free.
        times = tuple(replace(each, acceptable=True) for each in times)
    turned = tuple(_turned(each, job, find) for each in job.lies)
    if all(mark.side == "front" for each in turned for mark in each.layer.marks):
        return Planned(job, front, None, times, hatch, apart)
    back = plan(SheetArt(job.width, job.height, turned, "back"), manner, workshop)
    together = tuple(map(_together, times, clock(back, workshop.motion)))
    return Planned(job, front, back, together, hatch, apart)


def _together(one: Times, other: Times) -> Times:
    return Times(
        one.way,
        one.engraving + other.engraving,
        one.cutting + other.cutting,
        one.travel + other.travel,
        one.pierce + other.pierce,
        one.acceptable,
    )


def write_sheets(
    sheets: Sequence[Planned], out: Path, form: Form, workshop: Workshop, progress: Progress
) -> tuple[tuple[Path, ...], ...]:
    """The files of each sheet, which are drawn before the first is written.

    UnusableError for a sheet whose cuts, as they would be written, may not be made.
    """
    found: list[dict[Path, bytes]] = []
    for number, sheet in enumerate(sheets, 1):
        _refuse_faults(sheet, workshop)
        found.append({out / name: data for name, data in _files(sheet, form, workshop)})
        progress(number, len(sheets))
    for files in found:
        for path, data in files.items():
            write_bytes(path, data)
    return tuple(tuple(files) for files in found)


def _files(sheet: Planned, form: Form, workshop: Workshop) -> Iterator[tuple[str, bytes]]:
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


def _kept_out(job: Job, workshop: Workshop, gap: float) -> tuple[Rect, ...]:
    """What the board keeps out, and that far round it."""
    boxes = workshop.material(job.wood.material).board.keep_out
    return tuple(Rect(x - gap, y - gap, x + w + gap, y + h + gap) for x, y, w, h in boxes)


def _refuse_faults(sheet: Planned, workshop: Workshop) -> None:
    """The workshop file may ask for other cuts, or keep out other places, than when it was laid."""
    kept = _kept_out(sheet.job, workshop, 0.0)
    for fault in (fault for side in sheet.sides for fault in faults(side, kept)):
        raise UnusableError(
            f"{sheet.job.id}: {fault}; set [cutting] and [board] in the workshop file as they were "
            f"when it was laid, or give a board that was begun up: stock --gone {sheet.job.id}."
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


def earlier_files(out: Path, keep: Iterable[Path]) -> tuple[Path, ...]:
    """The files of sheets in the folder that are not of these, with job sheets of some orders."""
    kinds = (*FORMATS, "html")
    found = sorted(path for kind in kinds for path in out.glob(f"S-[0-9][0-9][0-9][0-9]*.{kind}"))
    kept = set(keep)
    return tuple(path for path in found if path not in kept)
