"""A layer of a template as the checks look at it: what is cut, and what a finding calls it."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.designs.design import Mark, Template, TemplateLayer
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.linework import away
from proofgen.geometry.path import Contour, Path, circle, join
from proofgen.workshop.workshop import Limits, Machine, Workshop


@dataclass(frozen=True, slots=True)
class Wood:
    """A layer with its outline and openings as drawn, seen from the front, and their limits.

    `hole` is the hanger's, as wide as the widest hanger asks; it is one of the openings.
    """

    layer: TemplateLayer
    width: float
    outline: Path
    hole: Path
    openings: Path
    limits: Limits
    machine: Machine
    thickness: float

    def where(self, element: str, side: str = "front") -> str:
        """What a finding calls an element of this layer."""
        return f"{self.layer.file(side)}, element '{element}'"

    def seen(self, side: str) -> Affine:
        """From what is drawn on a side to what is seen from the front."""
        return Affine() if side == "front" else Affine(a=-1.0, e=self.width)

    @property
    def cuts(self) -> tuple[Mark, ...]:
        """What is cut and drawn."""
        return tuple(mark for mark in self.layer.marks if mark.operation.startswith("cut"))

    @property
    def lines(self) -> Path:
        """All cuts as open lines, the hole's among them."""
        return opened(join((*(mark.path for mark in self.cuts), self.hole)))

    def nearest(self, place: Point, within: float = 0.0) -> str:
        """The element whose cut is nearest to a place, the hanger's hole among them.

        An opening within so many mm of it comes before the outline.
        """
        cuts = (
            [*self.cuts, Mark("cut-inside", self.hole, element="hole")] if self.hole else self.cuts
        )
        inside = [mark for mark in cuts if mark.operation == "cut-inside"]
        close = [mark for mark in inside if away(place, mark.path) <= within]
        return min(close or cuts, key=lambda mark: away(place, mark.path)).element

    def clear(self, made: str) -> tuple[float, float]:
        """By how much an edge comes nearer to a cut than it is drawn, and how near it may come."""
        kerf = self.machine.kerf
        if made == "cut":
            return kerf, self.limits.web.least
        return (kerf + self.machine.dot) / 2, self.limits.engraving_to_cut.least


def woods(template: Template, workshop: Workshop) -> tuple[Wood, ...]:
    """The layers of a template, back to front."""
    return tuple(_wood(template, layer, workshop) for layer in template.layers)


def _wood(template: Template, layer: TemplateLayer, workshop: Workshop) -> Wood:
    hole = _hole(template, layer, workshop)
    inside = (mark.path for mark in layer.marks if mark.operation == "cut-inside")
    material = workshop.material(layer.material)
    return Wood(
        layer=layer,
        width=template.size[0],
        outline=join(mark.path for mark in layer.marks if mark.operation == "cut-outside"),
        hole=hole,
        openings=join((*inside, hole)),
        limits=material.limits,
        machine=workshop.machine,
        thickness=material.thickness,
    )


def _hole(template: Template, layer: TemplateLayer, workshop: Workshop) -> Path:
    offered = [hanger.hole for hanger in workshop.hangers if hanger.id in template.hangers]
    widest = max(offered, default=0.0)
    if layer.hole is None or not widest:
        return Path()
    return circle(layer.hole, (widest + layer.hole_extra) / 2)


def opened(path: Path) -> Path:
    """The outline alone: closed contours are drawn back to their start, and enclose nothing."""
    return Path(Contour(each.start, each.drawn(), closed=False) for each in path.contours)


def drawn(mark: Mark) -> Path:
    """What of a mark is engraved or cut: the inside of an area, and of others the line alone."""
    return mark.path if mark.operation == "engrave-area" else opened(mark.path)
