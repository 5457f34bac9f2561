"""How the machine is set for an operation on a material, and how long work by hand takes to dry."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Setting:
    """What the maker sets at the machine, in the maker's own words; empty where nothing is said."""

    speed: str = ""
    power: str = ""
    passes: str = ""
    air: str = ""
    focus: str = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Minutes that pass before the next step: a stain dries, glue is clamped, lacquer dries.

    `finishes` are minutes of single finishes by id, `lacquer_dries` is 0 where nothing is
    lacquered. `glue_inset` is how far glue keeps from every edge, in mm.
    """

    stain_dries: float
    glue_sets: float
    lacquer_dries: float
    glue_inset: float
    finishes: tuple[tuple[str, float], ...] = ()

    def dries(self, finish: str) -> float:
        """Minutes that a finish dries."""
        return dict(self.finishes).get(finish, self.stain_dries)
