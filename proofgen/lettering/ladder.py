"""The settings of a face that are searched, least narrowed first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from proofgen.faces.face import Axes, Face
from proofgen.lettering.rules import Rules

# Plain horizontal scaling, the last resort.
SQUEEZES = (0.95, 0.9, 0.85, 0.8)
# Tracking in ems. Narrowed text may be set tighter, any text looser where its gaps need it.
LOOSER = (0.0, 0.02, 0.04, 0.06, 0.1, 0.14)
TIGHTER = (-0.02, *LOOSER)


@dataclass(frozen=True, slots=True)
class Level:
    """One width of a face: the weights to try in order, and the trackings to try at each."""

    weights: tuple[Axes, ...]
    squeeze: float
    trackings: tuple[float, ...]


def levels(face: Face, rules: Rules) -> Iterator[Level]:
    """The natural width, then the widths of the face's own axis, then plain scaling."""
    normal = dict(face.normal)
    loose = (0.0,) if face.joined else LOOSER
    tight = (0.0,) if face.joined else TIGHTER
    yield Level(_weights(face, normal, normal.get("wght", 0.0)), 1.0, loose)
    for width in face.widths:
        normal = {**normal, "wdth": width}
        yield Level(_weights(face, normal, 0.0), 1.0, tight)
    least = rules.squeeze_joined if face.joined else rules.squeeze
    for squeeze in SQUEEZES:
        if squeeze >= least:
            yield Level(_weights(face, normal, 0.0), squeeze, tight)


def _weights(face: Face, axes: dict[str, float], lightest: float) -> tuple[Axes, ...]:
    """The axes at every weight from the given one upwards; stroke rises with weight for a while."""
    if not face.weights:
        return (tuple(sorted(axes.items())),)
    chosen = [weight for weight in face.weights if weight >= lightest]
    return tuple(tuple(sorted({**axes, "wght": float(weight)}.items())) for weight in chosen)
