"""How much may be drawn, so that a check takes seconds: nodes, and crossings of lines."""

from __future__ import annotations

from proofgen.errors import UnusableError
from proofgen.geometry.path import Path
from proofgen.geometry.tangle import crosses_more

# Measured: what takes longest of so many nodes takes about 6 s. Designs that ship have under 400.
MOST_NODES = 3_000
MOST_CROSSINGS = 2_000


def check_effort(path: Path, place: str) -> None:
    """UnusableError where a drawing has more nodes, or lines that cross more often, than is read.

    Arcs count as the curves that are made of them.
    """
    nodes = sum(len(contour.degrees) for contour in path.contours)
    if nodes > MOST_NODES:
        raise UnusableError(
            f"{place}: has {nodes} nodes; at most {MOST_NODES} are read; simplify its paths."
        )
    if crosses_more(path, MOST_CROSSINGS):
        raise UnusableError(
            f"{place}: its lines cross more than {MOST_CROSSINGS} times; simplify it."
        )
