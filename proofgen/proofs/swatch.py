"""Boards of a scene's wood, slotted and engraved, for the colours that any piece of it has."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np

from proofgen.artwork.artwork import Layer
from proofgen.designs.design import Mark
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.proofs.ribbon import HOLE_FIELD
from proofgen.proofs.scene import Scene

SWATCH = (100.0, 90.0)  # mm
EDGE, OPENING, BAR = 6.0, 14.0, 6.0  # mm, of the swatch: a layer beyond the next, slots, between


def swatch(piece: Scene) -> Scene:
    """Boards of the same wood, slotted and engraved, that hang on the same."""
    layers = tuple(
        replace(layer, marks=_board(depth, piece.hanger.hole if piece.hanger else 0.0))
        for depth, layer in enumerate(piece.layers)
    )
    return replace(piece, layers=tuple(map(_plain, layers)), size=SWATCH)


def _plain(layer: Layer) -> Layer:
    """Without what does not show."""
    return replace(layer, material="", rotation=(), shared=False)


@lru_cache(maxsize=32)
def _board(depth: int, hole: float) -> tuple[Mark, ...]:
    return tuple(_marks(depth, hole))


def _marks(depth: int, hole: float) -> Iterator[Mark]:
    width, height = SWATCH
    near = EDGE * depth
    if hole:
        yield Mark("cut-inside", circle((width / 2, height / 4), hole / 2), HOLE_FIELD)
    slots = np.arange(near + BAR, height / 2 - OPENING / 2, OPENING / 2 + BAR)
    left, right = near + BAR, width / 2 - BAR - hole
    yield Mark("cut-inside", join(_box(left, y, right, y + OPENING / 2) for y in slots))
    lines = np.arange(height / 2 + BAR, height - near - BAR, BAR)
    yield Mark("engrave-area", join(_box(left, y, width - left, y + BAR / 3) for y in lines))
    yield Mark("cut-outside", _box(near, near, width - near, height - near))


def _box(left: float, top: float, right: float, bottom: float) -> Path:
    return polygon([(left, top), (right, top), (right, bottom), (left, bottom)])
