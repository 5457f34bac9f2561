"""The boards of a run, their pieces numbered as they come free."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proofgen.artwork.artwork import Layer
from proofgen.geometry.affine import Point
from proofgen.geometry.overlap import widest, without
from proofgen.geometry.path import Path, join
from proofgen.geometry.rect import Rect
from proofgen.jobsheet.data import Board, Lying, Tray
from proofgen.jobsheet.trays import copy_of, numbers_of
from proofgen.nesting.part import Board as Bare
from proofgen.nesting.remainder import remainder
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.want import Want, outline
from proofgen.workshop.settings import Setting
from proofgen.workshop.workshop import OPERATIONS, Group, Workshop

ENOUGH = 8.0  # mm: a circle as large has room for a number and the start of a name


@dataclass(frozen=True, slots=True)
class Cut:
    """A board as it is planned: what lies on it as it comes free; whether its back is engraved
    first; seconds on the machine, areas engraved in that way.
    """

    job: Job
    order: tuple[Lies, ...]
    back: bool
    seconds: float
    way: str


def body(layer: Layer) -> Path:
    """What is wood of a layer once it is cut, straight-sided."""
    return without(outline(layer), join(m.path for m in layer.marks if m.operation == "cut-inside"))


def board_of(
    cut: Cut, wants: Mapping[str, Want], trays: Sequence[Tray], workshop: Workshop
) -> Board:
    """The board with its pieces; `wants` are by key, `trays` those of the run."""
    numbers = numbers_of(trays)
    laid = [(lies, wants[lies.key].layer) for lies in cut.order]
    layers = [layer for _, layer in laid]
    job = cut.job
    finish = job.wood.finish
    title = workshop.material(job.wood.material).title
    return Board(
        job=job,
        wood=f"{title}, {workshop.finish(finish).title}" if finish else title,
        stain=finish,
        pieces=tuple(
            _lying(i, lies, layer, 0 if lies.ahead else numbers[copy_of(lies)])
            for i, (lies, layer) in enumerate(laid, 1)
        ),
        settings=_settings(layers, job.wood.material, workshop),
        rest=_rest(cut.job, laid, workshop),
        back=cut.back,
        seconds=cut.seconds,
        way=cut.way,
    )


def _lying(number: int, lies: Lies, layer: Layer, tray: int) -> Lying:
    at = lies.placed().affine()
    middle, radius = _place(layer)
    return Lying(
        number=number,
        tray=tray,
        order="" if lies.ahead else lies.number,
        name="" if lies.ahead else lies.name,
        copy=lies.copy,
        layer=layer,
        at=at,
        middle=at(middle),
        radius=radius,
    )


def _place(layer: Layer) -> tuple[Point, float]:
    """Where a number stands on a layer: beside its engraving, where there is room."""
    wood = body(layer)
    fronts = (m for m in layer.marks if m.side == "front" and m.operation == "engrave-area")
    free = without(wood, join(mark.path for mark in fronts))
    middle, radius = widest(free if free else wood)
    return (middle, radius) if radius >= ENOUGH else widest(wood)


def _settings(
    layers: Sequence[Layer], material: str, workshop: Workshop
) -> tuple[tuple[Group, Setting], ...]:
    """Of the operations that the board has, in the order of work."""
    used = {mark.operation for layer in layers for mark in layer.marks}
    own = workshop.material(material)
    return tuple((workshop.group(op), own.setting(op)) for op in OPERATIONS if op in used)


def _rest(job: Job, laid: Sequence[tuple[Lies, Layer]], workshop: Workshop) -> Rect | None:
    """Where on the board what is worth keeping lies; None where that cannot be told any more."""
    if job.leaves is None:
        return None
    size = workshop.material(job.wood.material).board
    keep_out = () if job.uses else tuple(Rect(x, y, x + w, y + h) for x, y, w, h in size.keep_out)
    board = Bare(job.width, job.height, size.margin, size.gap, keep_out)
    outlines = [outline(layer).moved(lies.placed().affine()) for lies, layer in laid]
    found = remainder(board, outlines, size.least)
    # The workshop file may have changed since the board was laid.
    same = found is not None and (round(found.width, 1), round(found.height, 1)) == job.leaves
    return found if same else None
