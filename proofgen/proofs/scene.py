"""What of a piece is seen from the front, and what of that is one buyer's own."""

from __future__ import annotations

from dataclasses import dataclass, replace

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.designs.design import Mark
from proofgen.workshop.gone import finish_of, hanger_of, thickness_of
from proofgen.workshop.workshop import Finish, Hanger, Workshop

# Lettered alike on all pieces of a season.
COMMON = ("year",)


@dataclass(frozen=True, slots=True)
class Scene:
    """All that decides how a piece looks. `layers` have the marks of their front, each with its
    own of `finishes` and its `thicknesses`; `hanger` is None where it hangs on nothing; lengths in
    millimetres.
    """

    layers: tuple[Layer, ...]
    finishes: tuple[Finish, ...]
    thicknesses: tuple[float, ...]
    hanger: Hanger | None
    size: tuple[float, float]
    watermark: bool


@dataclass(frozen=True, slots=True)
class Parted:
    """A scene that other buyers may share, and the marks that are engraved for this one: on the
    layers of the indices `depths`, from the back, those of `own`.
    """

    scene: Scene
    depths: tuple[int, ...]
    own: tuple[tuple[Mark, ...], ...]


def scene(artwork: Artwork, workshop: Workshop) -> Scene:
    """The whole piece with all that is on it; plain where the workshop has something no longer."""
    layers = tuple(
        replace(layer, marks=tuple(mark for mark in layer.marks if mark.side == "front"))
        for layer in artwork.layers
    )
    return Scene(
        layers,
        tuple(finish_of(workshop, layer.finish) for layer in layers),
        tuple(thickness_of(workshop, layer.material) for layer in layers),
        hanger_of(workshop, artwork.hanger),
        artwork.size,
        workshop.proofs.watermark,
    )


def parted(artwork: Artwork, workshop: Workshop) -> Parted:
    """The buyer's own marks apart from the rest.

    Where letters are cut the whole piece is the buyer's, and nothing is parted from it.
    """
    whole = scene(artwork, workshop)
    fields = {lettering.field for lettering in artwork.lettering} - set(COMMON)
    own = [tuple(m for m in layer.marks if m.field in fields) for layer in whole.layers]
    if any(mark.operation.startswith("cut-") for marks in own for mark in marks):
        return Parted(whole, (), ())
    layers = tuple(
        replace(layer, marks=tuple(mark for mark in layer.marks if mark.field not in fields))
        for layer in whole.layers
    )
    depths = tuple(depth for depth, marks in enumerate(own) if marks)
    return Parted(replace(whole, layers=layers), depths, tuple(own[depth] for depth in depths))
