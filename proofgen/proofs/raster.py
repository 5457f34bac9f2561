"""Exact-area coverage: how much of each pixel a polygon covers, by accumulating signed areas.

An edge that runs down through a pixel covers, of every pixel to its right in that row, its height;
summed over all edges this is the winding number, averaged over the pixel. Nothing is sampled, so
a stroke of a tenth of a pixel keeps its area.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.path import Path, Points
from proofgen.geometry.weld import weld

Floats = NDArray[np.float32]
Box = tuple[slice, slice]  # rows and columns

# A chord of a flattened outline leaves the curve by at most this, in pixels; ten times as much
# takes nearly a hundredth off the area of small lettering.
FLATNESS = 0.004


def coverage(path: Path, shape: tuple[int, int]) -> Floats:
    """The covered share 0..1 of each pixel (height, width) of a path in pixels, nonzero rule.

    Pixel (row r, column c) is the square from (c, r) to (c + 1, r + 1); open contours enclose
    nothing. The outline is welded first, so that no part of it is counted twice.
    """
    return polygon_coverage(weld([path]).flatten(FLATNESS), shape)


def polygon_coverage(polygons: Iterable[Points], shape: tuple[int, int]) -> Floats:
    """The same for polygons (n, 2) that end at their start and wind one way, holes the other.

    Where polygons overlap inside one pixel its share may come out too great, never above 1.
    """
    found = np.zeros(shape, np.float32)
    box, part = patch(polygons, shape)
    found[box] = part
    return found


def patch(polygons: Iterable[Points], shape: tuple[int, int]) -> tuple[Box, Floats]:
    """The rows and columns that the polygons touch, and the share of each pixel in them."""
    height, width = shape
    edges = [np.concatenate([p[:-1], p[1:]], axis=1) for p in polygons if len(p) > 1]
    if not edges:
        return (slice(0, 0), slice(0, 0)), np.zeros((0, 0), np.float32)
    edge = np.concatenate(edges)
    left, top = np.floor(np.minimum(edge[:, :2], edge[:, 2:]).min(axis=0)).astype(int)
    right, bottom = np.ceil(np.maximum(edge[:, :2], edge[:, 2:]).max(axis=0)).astype(int) + 1
    left, top = min(max(left, 0), width), min(max(top, 0), height)
    right, bottom = max(min(right, width), left), max(min(bottom, height), top)
    moved = edge - np.array([left, top, left, top])
    box = slice(top, bottom), slice(left, right)
    return box, _accumulated(moved, bottom - top, right - left)


def _accumulated(edge: Points, height: int, width: int) -> Floats:
    piece = _cut_at_pixels(edge)
    dy = piece[:, 3] - piece[:, 1]
    x = np.maximum((piece[:, 0] + piece[:, 2]) / 2, 0.0)
    row = np.floor((piece[:, 1] + piece[:, 3]) / 2).astype(np.int64)
    column = np.floor(x).astype(np.int64)
    seen = (row >= 0) & (row < height) & (column < width) & (dy != 0)
    dy, x, row, column = dy[seen], x[seen], row[seen], column[seen]
    # One column more takes what spills over the right border.
    at = row * (width + 1) + column
    beyond = dy * (x - column)
    size = height * (width + 1)
    cells = np.bincount(at, dy - beyond, size + 1) + np.bincount(at + 1, beyond, size + 1)
    winding = np.cumsum(cells[:size].reshape(height, width + 1), axis=1)[:, :width]
    return np.minimum(np.abs(winding), 1.0).astype(np.float32)


def _cut_at_pixels(edge: Points) -> Points:
    """The edges (n, 4) cut wherever they cross the border of a pixel."""
    count = len(edge)
    numbers = [np.arange(count), np.arange(count)]
    places = [np.zeros(count), np.ones(count)]
    for axis in (0, 1):
        number, place = _crossings(edge[:, axis], edge[:, axis + 2])
        numbers.append(number)
        places.append(place)
    number, place = np.concatenate(numbers), np.concatenate(places)
    order = np.argsort(2 * number + place)
    number, place = number[order], place[order, None]
    along = edge[number, :2] * (1 - place) + edge[number, 2:] * place
    whole = number[:-1] == number[1:]
    return np.asarray(np.hstack([along[:-1], along[1:]])[whole])


def _crossings(start: Points, end: Points) -> tuple[NDArray[np.int64], Points]:
    """Edge numbers and parameters 0..1 where a coordinate passes a whole number."""
    first = np.floor(np.minimum(start, end)).astype(np.int64) + 1
    count = np.maximum(np.ceil(np.maximum(start, end)).astype(np.int64) - first, 0)
    number = np.repeat(np.arange(len(start)), count)
    before = np.repeat(np.cumsum(count) - count, count)
    border = np.arange(len(number)) - before + first[number]
    return number, np.asarray((border - start[number]) / (end - start)[number])
