"""Finishes of the workshop file: four tones of wood and that of engraving, or one stain."""

from __future__ import annotations

import re

from proofgen import config
from proofgen.errors import UnusableError
from proofgen.workshop.stain import Tones, engraved, stained
from proofgen.workshop.workshop import Colour, Finish

_WHEN = ("none", "before", "after")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def bare_of_stains(root: config.Table, own: config.Table) -> config.Table:
    """The defaults without the tones of those finishes that the person gives a stain."""
    finishes = own.get("finishes")
    if not isinstance(finishes, dict):
        return root
    stains = [
        each for each, table in finishes.items() if isinstance(table, dict) and "stain" in table
    ]
    kept = {
        name: {
            k: v for k, v in table.items() if name not in stains or k not in ("wood", "engraving")
        }
        for name, table in root["finishes"].items()
    }
    return {**root, "finishes": kept}


def read_finish(name: str, table: config.Table, place: str) -> Finish:
    """The finish of that id; UnusableError for what is wrong in its table at that place."""
    known = ("title", "when", "stain", "wood", "engraving", "designs")
    config.check_keys(table, known, place)
    when = config.choice(table, "when", place, _WHEN)
    wood, engraving = _stained(table, place, when) if "stain" in table else _drawn(table, place)
    return Finish(
        id=name,
        title=config.text(table, "title", place),
        when=when,
        wood=wood,
        engraving=engraving,
        designs=config.texts(table, "designs", place, None),
    )


def _drawn(table: config.Table, place: str) -> tuple[Tones, Colour]:
    """The tones that a finish names one by one."""
    wood = table.get("wood")
    if not isinstance(wood, list) or len(wood) != 4:
        raise UnusableError(
            f"{place}: 'wood' must be a list of four colours \"#rrggbb\", from dark to light; or "
            "write one colour as 'stain'."
        )
    dark, dim, bright, light = (_as_colour(tone, "wood", place) for tone in wood)
    return (dark, dim, bright, light), colour(table, "engraving", place)


def _stained(table: config.Table, place: str, when: str) -> tuple[Tones, Colour]:
    """The tones that follow from one colour; that of the engraving may be said all the same."""
    if "wood" in table:
        raise UnusableError(f"{place}: has both 'stain' and 'wood'; write one of them.")
    if when == "none":
        raise UnusableError(
            f"{place}: 'when' must say whether the stain goes on before or after engraving."
        )
    stain = colour(table, "stain", place)
    wood = stained(stain)
    if "engraving" in table:
        return wood, colour(table, "engraving", place)
    return wood, engraved(wood, stain, when)


def colour(table: config.Table, key: str, place: str) -> Colour:
    """A colour that is written "#rrggbb"."""
    config.text(table, key, place)
    return _as_colour(table[key], key, place)


def _as_colour(value: object, key: str, place: str) -> Colour:
    if not isinstance(value, str) or not _COLOUR.fullmatch(value):
        raise UnusableError(f"{place}: '{key}' must be \"#rrggbb\", not {value!r}.")
    red, green, blue = bytes.fromhex(value[1:])
    return red, green, blue
