"""Whether a layout may be cut: nothing overlaps, every gap, margin and keep-out is kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from proofgen.geometry.apart import filled_path, near_rect, outside, too_near
from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Filled, Layout, Part


def faults(
    layout: Layout, parts: Sequence[Part], outlines: Mapping[str, Path] | None = None
) -> tuple[str, ...]:
    """A sentence for everything that is wrong; `outlines` are the true ones by key, else those of
    the parts.
    """
    true = outlines or {part.key: filled_path(part.outline) for part in parts}
    found: list[str] = []
    laid = [placed.key for filled in layout.filled for placed in filled.placed]
    missing = {part.key for part in parts} - set(laid) - set(layout.left)
    found += [f"{key} is not laid" for key in sorted(missing)]
    found += [f"{key} is laid twice" for key in sorted({k for k in laid if laid.count(k) > 1})]
    allowed = {part.key: part.turns for part in parts}
    for number, filled in enumerate(layout.filled, 1):
        found += [f"board {number}: {said}" for said in _on(filled, true, allowed)]
    return tuple(found)


def _on(
    filled: Filled, true: Mapping[str, Path], allowed: Mapping[str, tuple[float, ...]]
) -> list[str]:
    board, keys = filled.board, [placed.key for placed in filled.placed]
    paths = [true[placed.key].moved(placed.affine) for placed in filled.placed]
    found = [
        f"{keys[one]} and {keys[other]} are {apart:.3f} mm apart; at least {board.gap:g}"
        for one, other, apart in too_near(paths, board.gap)
    ]
    edge = board.margin
    room = Rect(edge, edge, board.width - edge, board.height - edge)
    for placed, path in zip(filled.placed, paths, strict=True):
        if beyond := outside(path, room):
            found.append(f"{placed.key} is {beyond:.3f} mm into the margin")
        if placed.turn % 360 not in allowed[placed.key]:
            found.append(f"{placed.key} is turned by {placed.turn:g} degrees")
        found += [
            f"{placed.key} is nearer than {board.gap:g} mm to a place that is kept free"
            for rect in board.keep_out
            if near_rect(path, rect) < board.gap - 1e-6
        ]
    return found
