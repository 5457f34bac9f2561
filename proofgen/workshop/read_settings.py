"""Reading settings of the machine, and the minutes of work by hand."""

from __future__ import annotations

from collections.abc import Collection

from proofgen import config
from proofgen.errors import UnusableError
from proofgen.workshop.settings import Setting, Steps

_KEYS = tuple(Setting.__dataclass_fields__)
_MOST = 14 * 24 * 60  # minutes; whatever takes longer was typed in another unit


def read_settings(
    material: config.Table, place: str, operations: Collection[str]
) -> tuple[tuple[str, Setting], ...]:
    """The settings of a material by operation, those that the person has filled in."""
    tables, place = config.table(material, "settings", place, {}), f"{place}.settings"
    config.check_keys(tables, operations, place)
    return tuple((each, _setting(tables, each, place)) for each in tables)


def _setting(tables: config.Table, operation: str, place: str) -> Setting:
    table, place = config.table(tables, operation, place), f"{place}.{operation}"
    config.check_keys(table, _KEYS, place)
    return Setting(**{key: _said(table[key], f"{place}, {key}") for key in table})


def _said(value: object, place: str) -> str:
    """Words or a number as a person reads them."""
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, str):
        return " ".join(value.split())
    raise UnusableError(f"{place}: give words or a number, not {value!r}.")


def read_steps(root: config.Table, place: str, finishes: Collection[str]) -> Steps:
    """The table [steps]; UnusableError naming file and key."""
    table, place = config.table(root, "steps", place), f"{place}, steps"
    config.check_keys(table, tuple(Steps.__dataclass_fields__), place)
    own, where = config.table(table, "finishes", place), f"{place}, finishes"
    config.check_keys(own, finishes, where)
    return Steps(
        stain_dries=config.number(table, "stain_dries", place, least=0, most=_MOST),
        glue_sets=config.number(table, "glue_sets", place, least=0, most=_MOST),
        lacquer_dries=config.number(table, "lacquer_dries", place, least=0, most=_MOST),
        glue_inset=config.number(table, "glue_inset", place, least=0, most=50),
        finishes=tuple(
            (each, config.number(own, each, where, least=0, most=_MOST)) for each in own
        ),
    )
