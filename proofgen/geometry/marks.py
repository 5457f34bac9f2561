"""Marks of letters that are cut: kept clear of other letters, each with what it is to hang on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely import GeometryCollection
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.parts import parts_of_welded
from proofgen.geometry.path import Path, join
from proofgen.geometry.polygons import to_shapely

# mm; where marks go needs no better outlines than this.
FLATNESS = 0.05
TINY = 1e-3  # mm, of rounding
# mm; marks are moved by whole steps, so that rounding decides nothing.
STEP = 0.25
# Down to its letter a mark may sink with this share of itself, and still be seen as one.
SUNK = 0.15
# What a millimetre up costs beside one sideways or down: what is high already looks lost.
RISE = 1.5
# mm; by how much one part must be nearer to the letter for another to hang on it.
NEARER = 1.0
# Letters so many places away may be near a mark.
AROUND = 2
STILL: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Tie:
    """A mark, and the part of its own letter that it is to hang on."""

    mark: Path
    body: Path


@dataclass(frozen=True, slots=True)
class Marked:
    """Letters as they are cut, each with its marks where they are now, and what hangs on what.

    `close` are letters (their places) of which a mark came no further from another than the least.
    """

    letters: tuple[Path, ...]
    ties: tuple[Tie, ...]
    close: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Parted:
    """A letter without its marks, and the marks above and below it."""

    body: Path
    groups: tuple[tuple[Path, ...], ...]

    def moved(self, affine: Affine) -> Parted:
        """The same letter elsewhere."""
        groups = tuple(tuple(mark.moved(affine) for mark in group) for group in self.groups)
        return Parted(self.body.moved(affine), groups)

    def shifted(self, number: int, by: Point) -> Parted:
        """The same with one group elsewhere."""
        groups = list(self.groups)
        groups[number] = tuple(mark.moved(Affine.shift(*by)) for mark in groups[number])
        return Parted(self.body, tuple(groups))

    def whole(self) -> Path:
        """The letter and its marks."""
        return join((self.body, *(mark for group in self.groups for mark in group)))


def cleared(letters: Sequence[Parted], wanted: float, least: float, reach: float) -> Marked:
    """The letters with their marks moved by up to `reach` mm, so that each reads as its own.

    A mark is moved as little as keeps it `wanted` mm from other letters and their marks, or else to
    where it is furthest from them.
    """
    found = list(letters)
    close: list[tuple[int, int]] = []
    for i, letter in enumerate(found):
        near = [j for j in range(i - AROUND, i + AROUND + 1) if j != i and 0 <= j < len(found)]
        for number in range(len(letter.groups)):
            others = [shape_of(found[j].whole()) for j in near]
            by, gap = _clear(found[i], number, GeometryCollection(others), wanted, reach)
            if by != STILL:
                found[i] = found[i].shifted(number, by)
            if gap < least - FLATNESS:
                mark = shape_of(join(found[i].groups[number]))
                far = [mark.distance(other) for other in others]
                close.append((i, near[far.index(min(far))]))
    ties = tuple(tie for letter in found if letter.groups for tie in _ties(letter))
    return Marked(tuple(letter.whole() for letter in found), ties, tuple(close))


def taken_apart(letter: Path) -> Parted:
    """Marks are what lies wholly above or below the middle of the largest part of a letter, which
    comes from welding.
    """
    whole = parts_of_welded(letter, FLATNESS) if len(letter.contours) > 1 else ()
    if len(whole) < 2:
        return Parted(letter, ())
    middle = max(whole, key=lambda part: shape_of(part).area).bounds().centre[1]
    above = tuple(part for part in whole if part.bounds().bottom < middle)
    below = tuple(part for part in whole if part.bounds().top > middle)
    if not above and not below:
        return Parted(letter, ())
    body = join(part for part in whole if part not in (*above, *below))
    return Parted(body, tuple(group for group in (above, below) if group))


def _clear(
    letter: Parted, number: int, others: BaseGeometry, wanted: float, reach: float
) -> tuple[Point, float]:
    """How far to move a group of marks, and how far from other letters it then is."""
    marks, body = shape_of(join(letter.groups[number])), shape_of(letter.body)
    best, furthest = STILL, _distance(marks, others)
    if furthest >= wanted - TINY:
        return best, furthest
    left, _, right, _ = shapely.union_all([body, marks.centroid]).bounds
    for by in _shifts(int(reach // STEP)):
        tried = translate(marks, *by)
        gap = _distance(tried, others)
        over = left <= tried.centroid.x <= right
        if gap > furthest and over and tried.intersection(body).area <= SUNK * marks.area:
            best, furthest = by, gap
        if furthest >= wanted - TINY:
            break
    return best, furthest


def _distance(marks: BaseGeometry, others: BaseGeometry) -> float:
    return np.inf if others.is_empty else float(marks.distance(others))


@lru_cache(maxsize=256)
def shape_of(path: Path) -> BaseGeometry:
    """What a path fills, near enough to tell where marks go. For use inside geometry/ only."""
    return to_shapely(path, FLATNESS)


@lru_cache(maxsize=16)
def _shifts(reach: int) -> tuple[Point, ...]:
    """All moves of up to so many steps, the least first."""
    axis = np.arange(-reach, reach + 1)
    x, y = (steps.ravel() for steps in np.meshgrid(axis, axis))
    costs = np.round(np.hypot(x, np.where(y < 0, RISE * y, y)), 6)
    order = [k for k in np.lexsort((y, x, costs)) if costs[k] <= reach]
    return tuple((float(x[k]) * STEP, float(y[k]) * STEP) for k in order)


def _ties(letter: Parted) -> Iterator[Tie]:
    """Each mark hangs on its letter, or on a mark of the same letter that lies between them."""
    body = shape_of(letter.body)
    for group in letter.groups:
        shapes = [shape_of(mark) for mark in group]
        far = [shape.distance(body) for shape in shapes]
        for i, mark in enumerate(group):
            between = [j for j in range(len(group)) if far[j] < far[i] - NEARER]
            nearest = min(between, key=lambda j: shapes[i].distance(shapes[j]), default=None)
            on_mark = nearest is not None and shapes[i].distance(shapes[nearest]) < far[i]
            yield Tie(mark, group[nearest] if on_mark and nearest is not None else letter.body)
