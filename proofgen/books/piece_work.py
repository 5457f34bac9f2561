"""What it takes to make a piece: its boards, and its minutes on the machine by the clock."""

from __future__ import annotations

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.geometry.affine import Affine
from proofgen.geometry.polygons import area
from proofgen.money.work import Work, measured
from proofgen.production.clock import clock, recommended
from proofgen.production.plan import plan
from proofgen.production.steps import Laid, SheetArt
from proofgen.sheets.want import outline
from proofgen.workshop.workshop import Workshop


def work_of(artwork: Artwork, workshop: Workshop) -> Work:
    """The work of a piece whose layers are laid one by one, each alone on its board, and engraved
    in the quickest way that is acceptable.

    On a full sheet the moves between pieces come to about as much as those to a piece alone.
    """
    layers = artwork.layers
    return measured(
        ((layer.material, area(outline(layer))) for layer in layers),
        sum(_seconds(layer, workshop) for layer in layers),
        sum(workshop.finish(layer.finish).when != "none" for layer in layers),
        artwork.hanger,
    )


def _seconds(layer: Layer, workshop: Workshop) -> float:
    """Both sides of a layer on the machine."""
    box, margin = outline(layer).bounds(), workshop.material(layer.material).board.margin
    laid = (Laid(layer, Affine.shift(margin - box.left, margin - box.top), layer.name),)
    width, height = box.width + 2 * margin, box.height + 2 * margin
    sides = sorted({mark.side for mark in layer.marks})
    plans = (plan(SheetArt(width, height, laid, side), "piece", workshop) for side in sides)
    return sum(recommended(clock(each, workshop.motion)).total for each in plans)
