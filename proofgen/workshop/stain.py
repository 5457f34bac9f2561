"""A finish from one colour: a stain is a glaze, which leaves the grain of the wood to be seen."""

from __future__ import annotations

from proofgen.workshop.contrast import LEAST, grain_mean, luminance, ratio, wood_luminance
from proofgen.workshop.workshop import Colour

Tones = tuple[Colour, Colour, Colour, Colour]

# The four tones against one another, from dark grain to light: the darker a stain, the farther
# apart. Read off the finishes that ship.
DARK, PALE = (0.47, 0.83, 1.14, 1.56), (0.72, 0.96, 1.10, 1.22)
BRIGHT = 200.0  # mean of red, green and blue from which a stain is as pale as can be
# Pale strokes lose up to a sixth of their contrast to the shade of their own edges in the pictures.
ENOUGH = 1.2 * LEAST
# What the beam leaves where it has taken a stain away, lightly and fully; from memory.
TOASTED: Colour = (212, 173, 128)
BROWN: Colour = (128, 79, 43)
# As far as it can go: the lightest grain of bare wood, and char; from memory.
BARE: Colour = (243, 226, 196)
CHAR: Colour = (38, 25, 18)


def stained(colour: Colour) -> Tones:
    """The four tones of wood under a stain; a board of it has that colour as its mean."""
    share = min(sum(colour) / 3 / BRIGHT, 1.0)
    shades = [(1 - share) * dark + share * pale for dark, pale in zip(DARK, PALE, strict=True)]
    mean = grain_mean(shades)
    dark, dim, bright, light = (_times(colour, shade / mean) for shade in shades)
    return dark, dim, bright, light


def engraved(tones: Tones, colour: Colour, when: str) -> Colour:
    """The tone of engraving in wood of these tones under a stain of that colour.

    A stain that is on "before" is burnt away to toasted or brown wood, whichever is told better
    from the board; where neither is told well enough, to bare wood or char. One that comes "after"
    darkens the brown, or the char.
    """
    wood = wood_luminance(tones)
    pairs: tuple[tuple[Colour, ...], ...] = ((TOASTED, BROWN), (BARE, CHAR))
    if when == "after":
        pairs = tuple((_under(colour, tone),) for tone in (BROWN, CHAR))
    usual, farthest = (max(pair, key=lambda tone: ratio(luminance(tone), wood)) for pair in pairs)
    return usual if ratio(luminance(usual), wood) >= ENOUGH else farthest


def _under(colour: Colour, tone: Colour) -> Colour:
    red, green, blue = (round(t * c / 255) for t, c in zip(tone, colour, strict=True))
    return red, green, blue


def _times(colour: Colour, shade: float) -> Colour:
    red, green, blue = (min(255, round(part * shade)) for part in colour)
    return red, green, blue
