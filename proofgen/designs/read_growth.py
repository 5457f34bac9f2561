"""The lines across which a design grows: the tables [[growth]] in design.toml."""

from __future__ import annotations

from proofgen import config
from proofgen.designs.design import Growth

GROWTH_KEYS = ("axis", "at", "most", "field")
AXES = ("x", "y")
MOST = 500.0  # mm


def read_growth(table: config.Table, file: str) -> tuple[Growth, ...]:
    """Read them all; UnusableError names the table that is wrong."""
    tables = config.tables(table, "growth", file, [])
    return tuple(_one(each, f"{file}, growth {number}") for number, each in enumerate(tables, 1))


def _one(table: config.Table, place: str) -> Growth:
    config.check_keys(table, GROWTH_KEYS, place)
    return Growth(
        axis=config.choice(table, "axis", place, AXES),
        at=config.number(table, "at", place),
        most=config.number(table, "most", place, least=0.5, most=MOST),
        field=config.text(table, "field", place),
    )
