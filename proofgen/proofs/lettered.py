"""A buyer's lettering on a still: only the rows that it touches are drawn and packed again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from proofgen.designs.design import Mark
from proofgen.geometry.path import Path, Points
from proofgen.proofs.engraving import Relief, depth, engrave, floor, reach, relief, scorch
from proofgen.proofs.paint import Board, ramp
from proofgen.proofs.palette import Indices, Mask, nearest, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Box, patched
from proofgen.proofs.scene import Parted
from proofgen.proofs.soft import WHOLE, Soft, most, nothing
from proofgen.proofs.stage import Stage
from proofgen.proofs.still import (
    ADDED,
    BODY,
    CANVAS,
    FACTOR,
    HIDDEN,
    PLAIN,
    ROWS,
    STATE,
    TONE,
    Still,
)
from proofgen.proofs.toned import toned
from proofgen.workshop.contrast import PLACES
from proofgen.workshop.workshop import Finish


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lettering on a still: the indices of the pixels of a box of the window, and which of them
    are seen.
    """

    box: Box
    seen: Mask
    index: Indices


def lettered(base: Still, piece: Parted, stage: Stage) -> Iterator[Band]:
    """The rows of the scene, packed, with the buyer's own marks engraved.

    Where two layers are lettered the upper hides the lower, so each can be drawn by itself.
    """
    index = base.index.copy()
    changed = np.zeros(len(index), np.bool_)
    window = index[stage.rows, stage.columns]
    for number, (layer, marks) in enumerate(zip(piece.depths, piece.own, strict=True)):
        for paths in _groups([mark.path for mark in marks], stage):
            part = _drawn(base, number, paths, stage, piece.scene.finishes[layer])
            np.copyto(window[part.box], part.index, where=part.seen)
            changed[stage.rows][part.box[0]] |= part.seen.any(axis=1)
    for number, kept in enumerate(base.bands):
        rows = slice(number * ROWS, (number + 1) * ROWS)
        yield band(index[rows]) if changed[rows].any() else kept


# Many pieces have the same heading or inscription.
@lru_cache(maxsize=64)
def _drawn(
    base: Still, number: int, paths: tuple[Path, ...], stage: Stage, finish: Finish
) -> Drawn:
    """The outlines engraved in the lettered layer of that number: by tables where it is plain wood
    that is scorched, or the floor of an engraving in it, by coats where more than that meets.
    """
    planes, box = base.planes[number], _box(paths, stage)
    cut = relief(_mask(paths, box, stage), planes[BODY][box], stage.scale)
    state, tone = planes[STATE][box], planes[TONE][box]
    seen = cut.touched & (state != HIDDEN)
    plain = (state == PLAIN) & seen
    boards = (
        (Board(ramp(finish.wood, PLACES), tone), scorch(cut), most(cut.mask, cut.glint) == 0),
        (floor(finish.engraving, tone), depth(cut, finish), cut.mask == WHOLE),
    )
    index, rest = nothing(seen.shape), seen.copy()
    for board, glass, where in boards:
        where &= plain
        np.copyto(index, toned(board, glass, base.palette, base.first), where=where)
        rest &= ~where
    colours = _engraved(planes, box, rest, cut, finish)
    index[rest] = nearest(base.palette[base.first :])(colours) + np.uint8(base.first)
    return Drawn(box, seen, index)


def _engraved(planes: Indices, box: Box, seen: Mask, cut: Relief, finish: Finish) -> Indices:
    """The colours (n, 3) of the pixels of the box that are seen."""
    local = np.flatnonzero(seen)
    row, column = np.divmod(local, seen.shape[1])
    number = (row + box[0].start) * planes.shape[2] + column + box[1].start
    pixels = planes[:BODY].reshape(BODY, -1).take(number, axis=1)
    canvas = pixels[CANVAS].astype(np.float32)
    for coat in engrave(cut, planes[TONE][box], finish):
        coat.touch(canvas, local)
    canvas *= pixels[FACTOR] * np.float32(1 / 255)
    canvas += pixels[ADDED]
    return whole(canvas.T)


def masks(marks: Iterable[Mark], stage: Stage) -> Iterator[tuple[Box, Soft]]:
    """What marks engrave in the window, by parts that lie apart: where each is, and its mask."""
    for paths in _groups([mark.path for mark in marks], stage):
        box = _box(paths, stage)
        yield box, _mask(paths, box, stage)


def _groups(paths: Iterable[Path], stage: Stage) -> list[tuple[Path, ...]]:
    """Outlines whose boxes lie apart, those that do not together."""
    found: list[tuple[Path, ...]] = []
    for path in paths:
        group: tuple[Path, ...] = (path,)
        while near := next((each for each in found if _meet(each, group, stage)), None):
            found.remove(near)
            group += near
        found.append(group)
    return found


def _meet(paths: tuple[Path, ...], others: tuple[Path, ...], stage: Stage) -> bool:
    boxes = zip(_box(paths, stage), _box(others, stage), strict=True)
    return all(a.start < b.stop and b.start < a.stop for a, b in boxes)


def _box(paths: tuple[Path, ...], stage: Stage) -> Box:
    """The rows and columns of the window that outlines and what surrounds them touch."""
    far = reach(stage.scale)
    corners = np.array([_polygons(path, stage)[1] for path in paths])
    left, top = np.maximum(np.floor(corners[:, 0].min(axis=0)).astype(int) - far, 0)
    right, bottom = np.ceil(corners[:, 1].max(axis=0)).astype(int) + far
    return slice(top, min(bottom, stage.height)), slice(left, min(right, stage.width))


def _mask(paths: tuple[Path, ...], box: Box, stage: Stage) -> Soft:
    """What is engraved in the box."""
    corner = (box[1].start, box[0].start)
    found = nothing((box[0].stop - box[0].start, box[1].stop - box[1].start))
    outlines = ([line - corner for line in _polygons(path, stage)[0]] for path in paths)
    part, area = patched(outlines, found.shape)
    found[part] = area
    return found


@lru_cache(maxsize=64)
def _polygons(path: Path, stage: Stage) -> tuple[list[Points], Points]:
    """An outline in pixels of the window, and the corners (2, 2) of its box."""
    polygons = stage.polygons(path)
    points = np.concatenate(polygons)
    return polygons, np.array([points.min(axis=0), points.max(axis=0)])
