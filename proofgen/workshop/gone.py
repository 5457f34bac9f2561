"""What stands in for a finish, hanger or material that a recorded piece has and the file no longer.

The piece is still drawn, in plain wood and on a plain ribbon, and `gone` is what to say of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from proofgen.workshop.workshop import Colour, Finish, Hanger, Workshop

NO_HANGER = "none"
# Paper rather than wood, so that nobody takes it for a finish on offer.
PLAIN: tuple[Colour, Colour, Colour, Colour] = (
    (196, 190, 182),
    (214, 209, 202),
    (227, 223, 217),
    (239, 236, 231),
)
MARKED: Colour = (92, 86, 80)
WIDTH, HOLE = 4.0, 4.0  # mm, of a ribbon
THICKNESS = 3.0  # mm


def finish_of(workshop: Workshop, wanted: str) -> Finish:
    """The finish of that id, or a plain one that is called by it."""
    found = (each for each in workshop.finishes if each.id == wanted)
    return next(found, Finish(wanted, wanted, "none", PLAIN, MARKED))


def hanger_of(workshop: Workshop, wanted: str) -> Hanger | None:
    """The hanger of that id, or a plain one that is called by it; None for no hanger."""
    if wanted == NO_HANGER:
        return None
    found = (each for each in workshop.hangers if each.id == wanted)
    return next(found, Hanger(wanted, wanted, HOLE, WIDTH, MARKED))


def thickness_of(workshop: Workshop, wanted: str) -> float:
    """That of the material of that id in millimetres, or a usual one."""
    found = (each.thickness for each in workshop.materials if each.id == wanted)
    return next(found, THICKNESS)


def gone(workshop: Workshop, finishes: Iterable[str], hanger: str) -> Iterator[str]:
    """What the workshop has no longer, in words."""
    known = {each.id for each in workshop.finishes}
    yield from (f"the finish {each}" for each in dict.fromkeys(finishes) if each not in known)
    if hanger not in {NO_HANGER, *(each.id for each in workshop.hangers)}:
        yield f"the hanger {hanger}"


def gone_wood(workshop: Workshop, materials: Iterable[str], finishes: Iterable[str]) -> str:
    """What the workshop has no longer of what boards are told apart by, in words; else empty."""
    there = {each.id for each in workshop.materials}, {each.id for each in workshop.finishes}
    return " and ".join(
        f"no {what} {each}"
        for what, ids, known in zip(
            ("material", "finish"), (materials, finishes), there, strict=True
        )
        for each in dict.fromkeys(ids)
        if each not in known
    )


def tones(workshop: Workshop, finishes: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Those of these ids that the workshop has, each with its tones as they are now."""
    used = set(finishes)
    return tuple((each.id, each.tones) for each in workshop.finishes if each.id in used)
