"""A buyer's lettering on a still: only the rows that it touches are drawn and packed again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from PIL import Image

from proofgen.designs.design import Mark
from proofgen.geometry.path import Points
from proofgen.proofs.engraving import Relief, engrave, reach, relief
from proofgen.proofs.paint import Numbers, lay
from proofgen.proofs.palette import Indices, nearest, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Box, Floats, patch
from proofgen.proofs.scene import Parted
from proofgen.proofs.soft import soft
from proofgen.proofs.stage import Stage
from proofgen.proofs.still import ADDED, BODY, CANVAS, FACTOR, ROWS, TONE, Still
from proofgen.workshop.workshop import Finish


def lettered(base: Still, piece: Parted, stage: Stage) -> Iterator[Band]:
    """The rows of the scene, packed, with the buyer's own marks engraved.

    Where two layers are lettered the upper hides the lower, so each can be drawn by itself.
    """
    index = base.index.copy()
    changed = np.zeros(len(index), np.bool_)
    closest = nearest(base.palette[base.first :])
    for depth, marks, planes in zip(piece.depths, piece.own, base.planes, strict=True):
        window = index[stage.rows, stage.columns]
        for box, mask in masks(marks, stage):
            shown = planes[FACTOR][:, *box].any(axis=0)
            if not shown.any():
                continue
            cut = relief(soft(mask), Image.fromarray(planes[BODY][box]), stage.scale)
            number = np.flatnonzero(cut.touched & shown)
            down, along = _places(number, box)
            # Only these pixels, side by side.
            pixels = planes.reshape(len(planes), -1).take(down * stage.width + along, axis=1)
            colours = _engraved(pixels[:, None], cut.at(number), piece.scene.finishes[depth])
            window[down, along] = closest(colours) + np.uint8(base.first)
            changed[stage.rows][down] = True
    for place, kept in enumerate(base.bands):
        rows = slice(place * ROWS, (place + 1) * ROWS)
        yield band(index[rows]) if changed[rows].any() else kept


def _places(number: Numbers, box: Box) -> tuple[Numbers, Numbers]:
    """The rows and columns of the window in which pixels of these numbers of a box lie."""
    down, along = np.divmod(number, box[1].stop - box[1].start)
    return down + box[0].start, along + box[1].start


def _engraved(pixels: Indices, cut: Relief, finish: Finish) -> Indices:
    """The colours (n, 3) of pixels of which the planes (11, 1, n) are known."""
    canvas = pixels[CANVAS].astype(np.float32)
    lay(engrave(cut, _share(pixels[TONE]), finish), canvas)
    return whole((canvas * _share(pixels[FACTOR]) + pixels[ADDED])[:, 0].T)


def _share(plane: Indices) -> Floats:
    return np.asarray(plane * np.float32(1 / 255))


Outlines = list[list[Points]]


def masks(marks: Iterable[Mark], stage: Stage) -> Iterator[tuple[Box, Floats]]:
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


def _mask(outlines: list[list[Points]], box: Box) -> Floats:
    """What is engraved in the box."""
    corner = (box[1].start, box[0].start)
    found = np.zeros((box[0].stop - box[0].start, box[1].stop - box[1].start), np.float32)
    for polygons in outlines:
        part, area = patch((polygon - corner for polygon in polygons), found.shape)
        np.maximum(found[part], area, out=found[part])
    return found
