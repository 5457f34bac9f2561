"""Whether a plan may be cut as it will be written: compensated, with its lead-ins and overcuts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.geometry.apart import line_enters, lines_meet, near_rect, outside
from proofgen.geometry.path import Path, join
from proofgen.geometry.rect import Rect
from proofgen.production.steps import Plan, Step, is_cut


def faults(plan: Plan, keep_out: Sequence[Rect]) -> Iterator[str]:
    """A sentence for each two pieces whose cuts meet, and each piece with a cut that leaves the
    sheet, or of which anything enters a place that is kept out.
    """
    own: dict[int, list[Path]] = {}
    for step in plan.steps:
        if is_cut(step.operation):
            own.setdefault(step.piece, []).append(step.path)
    labels = [plan.pieces[piece].label for piece in own]
    cuts = [join(paths) for paths in own.values()]
    for one, other in lines_meet(cuts):
        yield f"cuts of '{labels[one]}' and '{labels[other]}' meet"
    for label, path in zip(labels, cuts, strict=True):
        if beyond := outside(path, Rect(0.0, 0.0, plan.width, plan.height)):
            yield f"a cut of '{label}' runs {beyond:.2f} mm off the board"
        if any(line_enters(path, each) for each in keep_out):
            yield f"a cut of '{label}' enters a place that is kept out"
    over = {step.piece for step in plan.steps if _engraves(plan, step, keep_out)}
    side = " on the back" if plan.side == "back" else ""
    for piece in sorted(over):
        label = plan.pieces[piece].label
        yield f"engraving of '{label}'{side} enters a place that is kept out"


def _engraves(plan: Plan, step: Step, places: Sequence[Rect]) -> bool:
    """Whether the step engraves in one of the places."""
    if is_cut(step.operation):
        return False
    if plan.filled(step.operation):
        return any(near_rect(step.path, each) == 0.0 for each in places)
    return any(line_enters(step.path, each) for each in places)
