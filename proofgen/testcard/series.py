"""What the card tries: rows of marks of falling sizes, and how a size drawn comes out."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.workshop.workshop import Machine


@dataclass(frozen=True, slots=True)
class Series:
    """A row of marks; `sizes` (mm, as drawn, falling) are the numbers beside them.

    `key` is what it tells in the workshop file: the limit of a material, or of all materials where
    it has two parts. A size comes out wider by `kerfs` kerfs and `dots` dots than it is drawn.
    `asks` goes on from "the smallest number whose"; `row` is the id of the series whose marks it is
    read off, where it has none of its own.
    """

    id: str
    title: str
    asks: str
    key: tuple[str, ...]
    sizes: tuple[float, ...]
    kerfs: float = 0.0
    dots: float = 0.0
    row: str = ""

    def comes_out(self, drawn: float, machine: Machine) -> float:
        """The size in wood of what is drawn so wide, mm."""
        return drawn + self.kerfs * machine.kerf + self.dots * machine.dot

    def drawn(self, comes_out: float, machine: Machine) -> float:
        """The size on the card of what comes out so wide, mm."""
        return comes_out - self.kerfs * machine.kerf - self.dots * machine.dot


# The sizes lie round the limits that ship, far enough to either side for a finer machine or a
# coarser one; common practice, no source.
STROKE = Series(
    *("stroke", "engraved strokes", "stroke is whole, both ways"),
    ("engraved_stroke",),
    (0.7, 0.5, 0.4, 0.35, 0.3, 0.25, 0.2, 0.15, 0.1),
    dots=1,
)
GAP = Series(
    *("gap", "engraved gaps", "gap is open all along"),
    ("engraved_gap",),
    (1.0, 0.8, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2, 0.15),
    dots=-1,
)
WEB = Series(
    *("web", "webs between cuts", "web holds when it is pressed lightly"),
    ("web",),
    (3.0, 2.5, 2.0, 1.7, 1.5, 1.2, 1.0, 0.8, 0.6),
    kerfs=-1,
)
STANDING = Series(
    *("standing", "standing strokes", "finger does not snap when it is bent lightly"),
    ("standing_stroke",),
    (3.5, 3.0, 2.5, 2.2, 2.0, 1.7, 1.5, 1.2, 1.0),
    kerfs=-1,
)
OPENING = Series(
    *("opening", "openings", "opening is clear, its waste fallen out"),
    ("cut_opening",),
    (1.5, 1.2, 1.0, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3),
    kerfs=1,
)
HOLE = Series(
    *("hole", "holes", "hole is clear, its waste fallen out"),
    ("cut_opening",),
    (4.0, 3.0, 2.5, 2.0, 1.5, 1.2, 1.0, 0.8, 0.6),
    kerfs=1,
)
HOLE_TO_EDGE = Series(
    *("hole-to-edge", "hole to edge", "hole keeps its edge when a cord is pulled"),
    ("hole_to_edge",),
    (4.0, 3.5, 3.0, 2.7, 2.5, 2.0, 1.5, 1.2, 1.0),
    kerfs=-1,
)
NEAR_CUT = Series(
    *("engraving-to-cut", "engraving to edge", "patch is clean and clear of the burnt edge"),
    ("engraving_to_cut",),
    (4.0, 3.0, 2.5, 2.2, 2.0, 1.5, 1.0, 0.7, 0.5),
    kerfs=-0.5,
    dots=-0.5,
)
PLAIN = Series(
    *("plain-faces", "faces, by the height of their capitals", "words all read well"),
    ("cap_heights", "inscription"),
    (5.0, 4.0, 3.0, 2.5, 2.0),
)
JOINED = Series(
    *("joined-faces", "joined faces, by the height of an x", "words all read well"),
    ("script", "x_height"),
    (4.0, 3.0, 2.0, 1.5),
)
# How small a name may be is how it reads from where it hangs, more than what the beam can do.
NAMES = Series(
    *("names", "names and years, by the height of their capitals", "letters read well as a name"),
    ("cap_heights", "name"),
    (10.0, 8.0, 6.0, 5.0, 4.0),
)
YEARS = Series(
    *("years", "years", "figure reads well as a year"),
    ("cap_heights", "year"),
    NAMES.sizes,
    row="names",
)
# Those on the left from the top, those along the lower edge, and the faces.
INNER = (STROKE, GAP, WEB, STANDING, OPENING, HOLE)
AT_EDGE = (HOLE_TO_EDGE, NEAR_CUT)
FACES = (PLAIN, JOINED)
SERIES = (*INNER, *AT_EDGE, *FACES, NAMES, YEARS)

# The kerf is measured on a lot of loose pieces side by side: each has lost one kerf.
PIECES, PIECE = 10, 6.0
LOT = PIECES * PIECE


def kerf_of(measured: float) -> float:
    """The kerf of a lot that measures so much across, mm."""
    return (LOT - measured) / PIECES


def lot_of(kerf: float) -> float:
    """What the lot measures across at that kerf, mm."""
    return LOT - PIECES * kerf


def as_printed(size: float) -> str:
    """A size as it stands beside its mark."""
    return f"{size:g}"
