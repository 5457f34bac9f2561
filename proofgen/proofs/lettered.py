"""A buyer's lettering on a still: only the rows that it touches are drawn and packed again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from proofgen.designs.design import Mark
from proofgen.geometry.path import Points
from proofgen.proofs.engraving import Relief, depth, engrave, floor, reach, relief, scorch
from proofgen.proofs.paint import Board, ramp
from proofgen.proofs.palette import Indices, Mask, nearest, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Box, patch
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


def lettered(base: Still, piece: Parted, stage: Stage) -> Iterator[Band]:
    """The rows of the scene, packed, with the buyer's own marks engraved.

    Where two layers are lettered the upper hides the lower, so each can be drawn by itself.
    """
    index = base.index.copy()
    changed = np.zeros(len(index), np.bool_)
    for number, marks, planes in zip(piece.depths, piece.own, base.planes, strict=True):
        window = index[stage.rows, stage.columns]
        for box, mask in masks(marks, stage):
            shown = planes[STATE][box] != HIDDEN
            if not shown.any():
                continue
            cut = relief(mask, planes[BODY][box], stage.scale)
            seen = cut.touched & shown
            _draw(base, planes, window, box, seen, cut, piece.scene.finishes[number])
            changed[stage.rows][box[0]] |= seen.any(axis=1)
    for number, kept in enumerate(base.bands):
        rows = slice(number * ROWS, (number + 1) * ROWS)
        yield band(index[rows]) if changed[rows].any() else kept


def _draw(
    base: Still,
    planes: Indices,
    window: Indices,
    box: Box,
    seen: Mask,
    cut: Relief,
    finish: Finish,
) -> None:
    """Fill the pixels of the box that are seen: by tables where it is plain wood that is scorched,
    or the floor of an engraving in it, by coats where more than that meets.
    """
    plain, tone = (planes[STATE][box] == PLAIN) & seen, planes[TONE][box]
    boards = (
        (Board(ramp(finish.wood, PLACES), tone), scorch(cut), most(cut.mask, cut.glint) == 0),
        (floor(finish.engraving, tone), depth(cut, finish), cut.mask == WHOLE),
    )
    rest = seen.copy()
    for board, glass, where in boards:
        where &= plain
        np.copyto(window[box], toned(board, glass, base.palette, base.first), where=where)
        rest &= ~where
    colours = _engraved(planes, box, rest, cut, finish)
    window[box][rest] = nearest(base.palette[base.first :])(colours) + np.uint8(base.first)


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


Outlines = list[list[Points]]


def masks(marks: Iterable[Mark], stage: Stage) -> Iterator[tuple[Box, Soft]]:
    """What marks engrave in the window, by parts that lie apart: where each is, and its mask."""
    for box, outlines in _groups([stage.polygons(mark.path) for mark in marks], stage):
        yield box, _mask(outlines, box)


def _groups(outlines: Outlines, stage: Stage) -> list[tuple[Box, Outlines]]:
    """Outlines whose boxes lie apart, each with the rows and columns of the window that it and
    what surrounds it touch; those that do not, together.
    """
    found: list[tuple[Box, Outlines]] = []
    for outline in outlines:
        group = [outline]
        box = _box(group, stage)
        while near := next((each for each in found if _meet(each[0], box)), None):
            found.remove(near)
            group += near[1]
            box = _box(group, stage)
        found.append((box, group))
    return found


def _meet(box: Box, other: Box) -> bool:
    return all(a.start < b.stop and b.start < a.stop for a, b in zip(box, other, strict=True))


def _box(outlines: Outlines, stage: Stage) -> Box:
    points = np.concatenate([polygon for each in outlines for polygon in each])
    far = reach(stage.scale)
    left, top = np.maximum(np.floor(points.min(axis=0)).astype(int) - far, 0)
    right, bottom = np.ceil(points.max(axis=0)).astype(int) + far
    return slice(top, min(bottom, stage.height)), slice(left, min(right, stage.width))


def _mask(outlines: list[list[Points]], box: Box) -> Soft:
    """What is engraved in the box."""
    corner = (box[1].start, box[0].start)
    found = nothing((box[0].stop - box[0].start, box[1].stop - box[1].start))
    for polygons in outlines:
        part, area = patch((polygon - corner for polygon in polygons), found.shape)
        np.maximum(found[part], area, out=found[part])
    return found
