"""Where an upright rectangle finds room, on a grid of points: for what is written on a drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, hypot

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString
from shapely.affinity import affine_transform

from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import to_shapely

FINE = 0.1  # mm, of flattened outlines
STILL = Affine()
MARGINS = (4.0, 3.0, 2.0, 1.0, 0.5, 0.0)  # mm round it, tried in this order


@dataclass(frozen=True, slots=True)
class FreeRoom:
    """Which cells of a grid are free: that of row i and column j has its corner at
    (left + j step, top + i step), and all of it is free where `free[i, j]`.
    """

    left: float
    top: float
    step: float
    free: NDArray[np.bool_]

    def place(
        self, size: tuple[float, float], near: Point, margins: Sequence[float] = MARGINS
    ) -> Point | None:
        """The middle of a rectangle of that width and height in mm, with the first of these margins
        about it that there is room for, and then as near to a point as can be; None without room.
        """
        for margin in margins:
            columns, rows = (ceil((side + 2 * margin) / self.step) for side in size)
            y, x = np.nonzero(_windows(self.free, rows, columns))
            if len(x):
                across = self.left + (x + columns / 2) * self.step
                down = self.top + (y + rows / 2) * self.step
                best = int(np.argmin((across - near[0]) ** 2 + (down - near[1]) ** 2))
                return float(across[best]), float(down[best])
        return None

    def without(self, middle: Point, size: tuple[float, float]) -> FreeRoom:
        """The same once a rectangle is taken."""
        rows, columns = (np.arange(n) for n in self.free.shape)
        x = self.left + (columns + 0.5) * self.step
        y = self.top + (rows + 0.5) * self.step
        reach = [side / 2 + self.step for side in size]
        taken = np.outer(abs(y - middle[1]) < reach[1], abs(x - middle[0]) < reach[0])
        return FreeRoom(self.left, self.top, self.step, self.free & ~taken)


def free_room(body: Path, taken: Sequence[Path], step: float, at: Affine = STILL) -> FreeRoom:
    """What is free of what `body` fills by the nonzero rule; closed contours of `taken` ones count
    as filled, open ones as lines. All of them are turned and moved by `at`.
    """
    wood = to_shapely(body, FINE)
    gone = [to_shapely(path, FINE) for path in taken]
    gone += [
        LineString(contour.flatten(FINE))
        for path in taken
        for contour in path.contours
        if contour.degrees
    ]
    # Whole cells: what is nearer to a middle than a cell's corner may reach into the cell.
    half = hypot(step, step) / 2
    room = shapely.difference(wood.buffer(-half), shapely.union_all(gone).buffer(half))
    room = affine_transform(room, (at.a, at.c, at.b, at.d, at.e, at.f))
    left, top, right, bottom = room.bounds
    if room.is_empty:
        return FreeRoom(0.0, 0.0, step, np.zeros((0, 0), bool))
    columns, rows = ceil((right - left) / step), ceil((bottom - top) / step)
    x = left + (np.arange(columns) + 0.5) * step
    y = top + (np.arange(rows) + 0.5) * step
    shapely.prepare(room)
    inside = shapely.contains_xy(room, *(each.ravel() for each in np.meshgrid(x, y)))
    return FreeRoom(left, top, step, inside.reshape(rows, columns))


def nearest_on(outline: Path, to: Point) -> Point:
    """The point of an outline's border that is nearest to another point."""
    border = to_shapely(outline, FINE).boundary
    found = border.interpolate(border.project(shapely.Point(to)))
    return float(found.x), float(found.y)


def _windows(free: NDArray[np.bool_], rows: int, columns: int) -> NDArray[np.bool_]:
    """For each place of a window of so many cells, whether all of them are free."""
    if rows > free.shape[0] or columns > free.shape[1]:
        return np.zeros((0, 0), bool)
    sums = np.zeros((free.shape[0] + 1, free.shape[1] + 1), np.int64)
    sums[1:, 1:] = free.cumsum(axis=0).cumsum(axis=1)
    found = sums[rows:, columns:] - sums[:-rows, columns:] - sums[rows:, :-columns]
    return np.asarray(found + sums[:-rows, :-columns] == rows * columns)
