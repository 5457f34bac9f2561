"""What everything that leaves the house is drawn from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from proofgen.designs.design import Mark
from proofgen.flags.flag import Flag, verdict
from proofgen.lettering.lettering import Lettering
from proofgen.orders.order import Order

OUTSIDE = "cut-outside"


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of wood. Marks are in piece coordinates, in the order of work, inner contours first.

    `shared` says that it is the same for every buyer of the same size, finish and hanger;
    `rotation` lists the angles in degrees at which it may lie on a sheet; `depth` is its place in
    the stack, 0 the rearmost.
    """

    name: str
    material: str
    finish: str
    depth: int
    shared: bool
    rotation: tuple[int, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Artwork:
    """One piece, complete. Layers back to front; `size` is (width, height) in millimetres.

    `hanger` is an id of the workshop's, or "none".
    """

    order: Order
    design: str
    title: str
    size: tuple[float, float]
    layers: tuple[Layer, ...]
    lettering: tuple[Lettering, ...]
    hanger: str

    @property
    def extent(self) -> tuple[float, float]:
        """Width and height of the wood, all layers glued; the drawing may be larger. (0, 0) for
        a piece without outlines.
        """
        outlines = [
            mark.path.bounds()
            for layer in self.layers
            for mark in layer.marks
            if mark.operation == OUTSIDE and mark.path
        ]
        if not outlines:
            return 0.0, 0.0
        return (
            max(box.right for box in outlines) - min(box.left for box in outlines),
            max(box.bottom for box in outlines) - min(box.top for box in outlines),
        )


@dataclass(frozen=True, slots=True)
class Made:
    """What a row became. `artwork` is None and `code` empty for a row that stops before it."""

    order: Order
    artwork: Artwork | None
    flags: tuple[Flag, ...]
    code: str = ""

    @property
    def verdict(self) -> str:
        """`ready`, `look` or `stop`."""
        return verdict(self.flags)

    def asked(self, field: str) -> str:
        """A text as the row has it, its line breaks as the piece has them; one that is usual on
        the design, or an empty one, where the row has none.
        """
        typed = self.order.field(field)
        made = self.artwork.lettering if self.artwork else ()
        lettered = next((each.text for each in made if each.field == field), typed)
        return lettered if not typed or "\n" in typed else typed

    @property
    def counted(self) -> str:
        """The proof code, and how many where it is several: what a picture says that it shows."""
        several = f" x {self.order.quantity}" if self.order.quantity > 1 else ""
        return f"{self.code}{several}"


def by_order(rows: Iterable[Made]) -> dict[str, list[Made]]:
    """The rows of each order number together, both in the order in which they come."""
    orders: dict[str, list[Made]] = {}
    for made in rows:
        orders.setdefault(made.order.number, []).append(made)
    return orders
