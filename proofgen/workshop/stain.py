"""A finish from one colour: a stain is a glaze, which leaves the grain of the wood to be seen."""

from __future__ import annotations

from proofgen.workshop.contrast import luminance, ratio
from proofgen.workshop.workshop import Colour

Tones = tuple[Colour, Colour, Colour, Colour]

# The four tones against their mean, from dark grain to light: the darker a stain, the farther
# apart. Read off the finishes that ship.
DARK, PALE = (0.47, 0.83, 1.14, 1.56), (0.72, 0.96, 1.10, 1.22)
BRIGHT = 200.0  # mean of red, green and blue from which a stain is as pale as can be
# What the beam leaves where it has taken a stain away, lightly and fully; from memory.
TOASTED: Colour = (212, 173, 128)
BROWN: Colour = (128, 79, 43)


def stained(colour: Colour) -> Tones:
    """The four tones of wood under a stain of that mean colour."""
    share = min(sum(colour) / 3 / BRIGHT, 1.0)
    dark, dim, bright, light = (
        _times(colour, (1 - share) * d + share * p) for d, p in zip(DARK, PALE, strict=True)
    )
    return dark, dim, bright, light


def engraved(colour: Colour, when: str) -> Colour:
    """The tone of engraving. A stain that is on `before` is burnt away: pale wood shows in a dark
    one, brown wood in a pale one. One that comes "after" darkens the brown.
    """
    if when == "after":
        red, green, blue = (round(b * c / 255) for b, c in zip(BROWN, colour, strict=True))
        return red, green, blue
    wood = luminance(colour)
    return max((TOASTED, BROWN), key=lambda tone: ratio(luminance(tone), wood))


def _times(colour: Colour, shade: float) -> Colour:
    red, green, blue = (min(255, round(part * shade)) for part in colour)
    return red, green, blue
