"""The lines across which a design grows: the tables [[growth]] in design.toml."""

from __future__ import annotations

from collections.abc import Iterable

from proofgen import config
from proofgen.designs.design import Growth
from proofgen.designs.grow import crosses_askew, seen_from
from proofgen.designs.read_layer import DrawnLayer
from proofgen.errors import UnusableError

GROWTH_KEYS = ("axis", "at", "most", "field")
AXES = ("x", "y")
MOST = 500.0  # mm


def read_growth(table: config.Table, file: str) -> tuple[Growth, ...]:
    """Read them all; UnusableError names the table that is wrong."""
    tables = config.tables(table, "growth", file, [])
    return tuple(_one(each, f"{file}, growth {number}") for number, each in enumerate(tables, 1))


def check_growth(growth: Iterable[Growth], layers: Iterable[DrawnLayer]) -> None:
    """UnusableError naming the element that crosses a line of growth other than straight."""
    lines = tuple(growth)
    for drawn in layers:
        for side in drawn.sides.values():
            for each in lines:
                seen = seen_from(each, side.side, drawn.size[0])
                for place, path in side.elements:
                    if crosses_askew(path, seen):
                        raise UnusableError(
                            f"{place}: crosses the line of growth {each.axis} = {each.at:g} other "
                            f"than straight; move the line, or draw a straight stretch across it."
                        )


def _one(table: config.Table, place: str) -> Growth:
    config.check_keys(table, GROWTH_KEYS, place)
    return Growth(
        axis=config.choice(table, "axis", place, AXES),
        at=config.number(table, "at", place),
        most=config.number(table, "most", place, least=0.5, most=MOST),
        field=config.text(table, "field", place),
    )
