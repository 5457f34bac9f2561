"""Reading how the machine moves and how cuts are laid."""

from __future__ import annotations

from proofgen import config
from proofgen.workshop.motion import Cutting, Motion


def motion(root: config.Table, place: str) -> Motion:
    """The table [motion]; UnusableError for what no machine does."""
    table, place = config.table(root, "motion", place), f"{place}, motion"
    config.check_keys(table, tuple(Motion.__dataclass_fields__), place)

    def positive(key: str, most: float) -> float:
        return config.number(table, key, place, least=1e-3, most=most)

    return Motion(
        acceleration=positive("acceleration", 1e5),
        engraving_speed=positive("engraving_speed", 1e4),
        pitch=config.number(table, "pitch", place, least=0.02, most=2),
        overscan=config.number(table, "overscan", place, least=0, most=100),
        rapid_speed=positive("rapid_speed", 1e4),
        cut_speed=positive("cut_speed", 1e4),
        passes=config.whole(table, "passes", place, least=1, most=100),
        pierce=config.number(table, "pierce", place, least=0, most=60),
        corner_deviation=positive("corner_deviation", 1),
        engraving_factor=config.number(table, "engraving_factor", place, least=0.1, most=10),
        cutting_factor=config.number(table, "cutting_factor", place, least=0.1, most=10),
    )


def cutting(root: config.Table, place: str) -> Cutting:
    """The table [cutting]."""
    table, place = config.table(root, "cutting", place), f"{place}, cutting"
    config.check_keys(table, tuple(Cutting.__dataclass_fields__), place)
    return Cutting(
        compensate=config.yes_or_no(table, "compensate", place),
        overcut=config.number(table, "overcut", place, least=0, most=10),
        lead_in=config.number(table, "lead_in", place, least=0, most=10),
        tabs=config.whole(table, "tabs", place, least=0, most=20),
        tab_width=config.number(table, "tab_width", place, least=0.1, most=5),
    )
