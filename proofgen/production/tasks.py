"""What there is to do on a sheet, in no order yet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from proofgen.designs.design import Mark
from proofgen.geometry.doubled import undoubled
from proofgen.geometry.inside import depths
from proofgen.geometry.offset import offset
from proofgen.geometry.path import Contour, Path, join
from proofgen.production.starts import Start, anywhere, at_the_lower_edge
from proofgen.production.steps import Laid, Piece, SheetArt, is_cut
from proofgen.workshop.workshop import OPERATIONS, Workshop


@dataclass(frozen=True, slots=True)
class Task:
    """An area, or a contour that is followed, of the piece of that number.

    `depth` counts the cuts round a cut; `outline` says that it is one that sets its piece free.
    `starts` are the places where a closed contour may be begun; an open one has none. `spare` are
    those where an outline may be begun if from all of the others a move leads over a loose piece.
    """

    operation: str
    path: Path
    piece: int
    depth: int = 0
    outline: bool = False
    starts: tuple[Start, ...] = ()
    spare: tuple[Start, ...] = ()


def tasks_of(sheet: SheetArt, workshop: Workshop) -> tuple[tuple[Piece, ...], tuple[Task, ...]]:
    """The pieces of a sheet and everything that is done to them."""
    found: list[Task] = []
    for number, laid in enumerate(sheet.laid):
        marks = [mark for mark in laid.layer.marks if mark.side == sheet.side and mark.path]
        found += _engraved(laid, marks, number)
        found += _cut(laid, marks, number)
    cuts = _by_depth([task for task in found if is_cut(task.operation)])
    outlines = {number: _outline(own) for number, own in groupby(cuts, key=lambda t: t.piece)}
    pieces = tuple(
        Piece(laid.label, outlines.get(number, Path())) for number, laid in enumerate(sheet.laid)
    )
    kerf = workshop.machine.kerf if workshop.cutting.compensate else 0.0
    compensated = (each for task in cuts for each in _compensated(task, kerf))
    engraved = (task for task in found if not is_cut(task.operation))
    ready = (_with_starts(task, sheet.laid[task.piece]) for task in (*engraved, *compensated))
    return pieces, tuple(ready)


def _engraved(laid: Laid, marks: list[Mark], piece: int) -> Iterator[Task]:
    for mark in marks:
        if mark.operation == "engrave-area":
            yield Task(mark.operation, mark.path.moved(laid.at), piece)
    lines = [c for mark in marks if mark.operation == "engrave-line" for c in mark.path.contours]
    for left in undoubled([line for line in lines if line.degrees]):
        yield from _tasks("engrave-line", left, laid, piece)


def _cut(laid: Laid, marks: list[Mark], piece: int) -> Iterator[Task]:
    """Cuts, the outer ones first: of a line that both an outline and a hole have, that stays."""
    cuts = [
        (operation, contour)
        for operation in ("cut-outside", "cut-inside")
        for mark in marks
        if mark.operation == operation
        for contour in mark.path.contours
        if contour.degrees
    ]
    left = undoubled([contour for _, contour in cuts])
    for (operation, _), contours in zip(cuts, left, strict=True):
        yield from _tasks(operation, contours, laid, piece)


def _tasks(operation: str, lines: Iterable[Contour], laid: Laid, piece: int) -> Iterator[Task]:
    """One each of the lines, where the piece lies."""
    for line in Path(lines).moved(laid.at).contours:
        yield Task(operation, Path((line,)), piece)


def _by_depth(cuts: list[Task]) -> list[Task]:
    """The cuts of all pieces with their depths; what sets a piece free is its outermost outline."""
    deep = depths([task.path.contours[0] for task in cuts])
    least: dict[int, int] = {}
    for task, depth in zip(cuts, deep, strict=True):
        if task.operation == "cut-outside":
            least[task.piece] = min(depth, least.get(task.piece, depth))
    return [
        replace(
            task,
            depth=depth,
            outline=task.operation == "cut-outside"
            and task.path.contours[0].closed
            and depth == least[task.piece],
        )
        for task, depth in zip(cuts, deep, strict=True)
    ]


def _outline(cuts: Iterator[Task]) -> Path:
    return join(task.path for task in cuts if task.outline)


def _compensated(task: Task, kerf: float) -> Iterator[Task]:
    """Outlines grow and holes shrink by half the kerf; a hole narrower than that stays a line."""
    contour = task.path.contours[0]
    if not kerf or not contour.closed:
        yield task
        return
    by = kerf / 2 if task.operation == "cut-outside" else -kerf / 2
    moved = offset(contour, by).contours or (contour,)
    yield from (replace(task, path=Path((each,))) for each in moved)


def _with_starts(task: Task, laid: Laid) -> Task:
    contour = task.path.contours[0]
    if task.operation == "engrave-area" or not contour.closed:
        return task
    if not task.outline:
        return replace(task, starts=anywhere(contour))
    starts, spare = at_the_lower_edge(contour, laid)
    return replace(task, starts=starts, spare=spare)


def work_order(task: Task) -> tuple[bool, int, int]:
    """Engraving by its operation; then cuts from the inside out, holes before outlines."""
    return is_cut(task.operation), -task.depth, OPERATIONS.index(task.operation)
