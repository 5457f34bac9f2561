"""How the machine moves and cuts, as far as the clock and the plan of a sheet need to know."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Motion:
    """What the clock reckons with: mm, mm/s, mm/s², seconds.

    `pitch` is the distance of engraved lines; `overscan` how far a row runs on at least;
    `corner_deviation` how far a corner may be rounded, which decides how fast it is taken.
    The two factors are what timed jobs came to, as shares of what was reckoned without them.
    """

    acceleration: float
    engraving_speed: float
    pitch: float
    overscan: float
    rapid_speed: float
    cut_speed: float
    passes: int
    pierce: float
    corner_deviation: float
    engraving_factor: float
    cutting_factor: float


@dataclass(frozen=True, slots=True)
class Cutting:
    """How cuts are laid (mm). What is 0 is not done.

    `compensate` moves cuts sideways by half the kerf, so that pieces come out as drawn;
    `overcut` is how far a cut runs on past its start, `lead_in` how far it starts off the line
    in the waste; `tabs` are how many bridges of `tab_width` hold each outline.
    """

    compensate: bool
    overcut: float
    lead_in: float
    tabs: int
    tab_width: float
