"""The order in which the machine does the marks of a layer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from proofgen.designs.design import Mark
from proofgen.geometry.path import Contour, Path
from proofgen.workshop.workshop import OPERATIONS


def in_order_of_work(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Engraving first, as drawn; then cuts, inner contours before those that surround them.

    What lies inside something has a smaller box than that, so cuts go by the area of their box:
    nothing is cut in wood that is free already.
    """
    return tuple(sorted(map(_inner_first, marks), key=_key))


def _inner_first(mark: Mark) -> Mark:
    if not _is_cut(mark) or len(mark.path.contours) < 2:
        return mark
    contours = sorted(mark.path.contours, key=_box_area)
    return replace(mark, path=Path(tuple(contours)))


def _key(mark: Mark) -> tuple[int, float]:
    area = max(map(_box_area, mark.path.contours)) if _is_cut(mark) else 0.0
    return OPERATIONS.index(mark.operation), area


def _is_cut(mark: Mark) -> bool:
    return mark.operation.startswith("cut-")


@lru_cache(maxsize=8192)
def _box_area(contour: Contour) -> float:
    box = Path((contour,)).bounds()
    return box.width * box.height
