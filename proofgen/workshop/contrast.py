"""How well engraving is told from the wood round it (WCAG 2.2, relative luminance and contrast)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from proofgen.workshop.workshop import Colour, Finish

LEAST = 3.0  # WCAG 2.2, success criterion 1.4.11: large text and what must be understood
WEIGHTS = (0.2126, 0.7152, 0.0722)  # of red, green and blue in relative luminance

# Where the four tones of a finish lie between the darkest grain and the lightest.
PLACES = (0.0, 0.35, 0.65, 1.0)
# The grain of a board: the middles of eight equal parts of its tones, mean of five boards.
GRAIN = (0.51, 0.59, 0.65, 0.70, 0.74, 0.78, 0.81, 0.85)


@lru_cache(maxsize=64)
def contrast(finish: Finish) -> float:
    """The ratio 1..21 of the engraving's tone to the mean of the wood over a zone."""
    return ratio(luminance(finish.engraving), wood_luminance(finish.wood))


@lru_cache(maxsize=64)
def wood_luminance(wood: tuple[Colour, ...]) -> float:
    """The mean relative luminance of a board of these four tones."""
    return sum(luminance(_tone(wood, place)) for place in GRAIN) / len(GRAIN)


def grain_mean(values: Sequence[float]) -> float:
    """The mean over a board of what has these values in its four tones."""
    return sum(_between(values, place) for place in GRAIN) / len(GRAIN)


def ratio(one: float, other: float) -> float:
    """The contrast of two relative luminances."""
    return (max(one, other) + 0.05) / (min(one, other) + 0.05)


def luminance(colour: tuple[float, float, float]) -> float:
    """Relative luminance 0..1 of an sRGB colour of 0..255."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (value / 255 for value in colour)
    )
    return WEIGHTS[0] * red + WEIGHTS[1] * green + WEIGHTS[2] * blue


def _tone(wood: Sequence[Colour], place: float) -> tuple[float, float, float]:
    """The colour at a place in the grain."""
    red, green, blue = (_between(parts, place) for parts in zip(*wood, strict=True))
    return red, green, blue


def _between(values: Sequence[float], place: float) -> float:
    """The value at a place in the grain, straight between those of two tones."""
    upper = next(i for i in range(1, len(PLACES)) if place <= PLACES[i])
    share = (place - PLACES[upper - 1]) / (PLACES[upper] - PLACES[upper - 1])
    return values[upper - 1] + (values[upper] - values[upper - 1]) * share
