"""Reading the workshop file: the person's, over the defaults that ship."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from string import Template
from typing import Any

from proofgen import config, resources
from proofgen.errors import UnusableError
from proofgen.workshop import read_motion
from proofgen.workshop.alike import refuse_alike
from proofgen.workshop.read_boards import board_size, refuse_narrow
from proofgen.workshop.read_finish import bare_of_stains, colour, read_finish
from proofgen.workshop.read_money import read_board_price, read_catalogue, read_money
from proofgen.workshop.read_settings import read_settings, read_steps
from proofgen.workshop.workshop import (
    OPERATIONS,
    PAPERS,
    PLACES,
    Bound,
    Group,
    Hanger,
    Limits,
    Machine,
    Material,
    Narrowing,
    Proofs,
    Selling,
    Workshop,
)

_FIELDS = ("name", "year", "inscription")
_ROOT = (
    *("format", "title", "edition_year", "machine", "limits", "cap_heights", "script"),
    *("narrowing", "materials", "finishes", "hangers", "groups", "orders", "proofs", "catalogue"),
    *("messages", "typography", "money", "motion", "cutting", "board", "steps"),
)
_LIMITS = tuple(Limits.__dataclass_fields__)
_MATERIAL = ("title", "thickness", "limits", "price", "unsafe", "reason", "board", "settings")
_CHLORIDE = re.compile(r"\b(pvc|vinyl)\b")
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

# Far beyond any sheet of wood (mm): whatever is longer was typed in another unit.
_LONGEST = 2000.0


def load(path: Path | None) -> Workshop:
    """The workshop of the file at `path`, or that of the defaults where it is None.

    The file overrides the defaults key by key. Raises UnusableError naming file and key.
    """
    defaults = resources.workshop_defaults()
    root = config.read_toml(defaults)
    if path is not None:
        own = config.read_toml(path)
        root = _over(bare_of_stains(root, own), own)
    # The defaults are in order (a test reads them), so what is wrong came from the person's file.
    place = str(path or defaults)
    config.check_keys(root, _ROOT, place)
    finishes = tuple(read_finish(*item) for item in _by_id(root, "finishes", place))
    hangers = tuple(_hanger(*item) for item in _by_id(root, "hangers", place))
    refuse_alike("finishes", finishes, place)
    refuse_alike("hangers", hangers, place)
    ids = {"finish": [each.id for each in finishes], "hanger": [each.id for each in hangers]}
    money = read_money(root, place)
    machine, cutting = _machine(root, place), read_motion.cutting(root, place)
    materials = _materials(root, place)
    for each in materials if cutting.compensate else ():
        refuse_narrow(each.board, machine.kerf, f"{place}, board of {each.id}")
    return Workshop(
        source=str(path) if path else "the shipped defaults",
        title=config.text(root, "title", place),
        edition_year=config.whole(root, "edition_year", place, least=1000, most=9999),
        machine=machine,
        motion=read_motion.motion(root, place),
        cutting=cutting,
        materials=materials,
        finishes=finishes,
        hangers=hangers,
        groups=_groups(root, place),
        cap_heights=_cap_heights(root, place),
        script_x_height=_script_x_height(root, place),
        narrowing=_narrowing(root, place),
        typography=config.yes_or_no(root, "typography", place),
        selling=_selling(root, place),
        proofs=_proofs(root, place),
        catalogue=read_catalogue(root, place, money, ids),
        money=money,
        steps=read_steps(root, place, ids["finish"]),
        messages=_messages(root, place),
    )


def _over(below: Mapping[str, Any], above: Mapping[str, Any]) -> dict[str, Any]:
    """The tables merged; where both have a key, the value of `above`."""
    merged = dict(below)
    for key, value in above.items():
        under = below.get(key)
        both_tables = isinstance(under, dict) and isinstance(value, dict)
        merged[key] = _over(under or {}, value) if both_tables else value
    return merged


def _part(root: config.Table, key: str, place: str, known: tuple[str, ...]) -> tuple[Any, str]:
    """A table of known keys, with its place."""
    table, place = config.table(root, key, place), f"{place}, {key}"
    config.check_keys(table, known, place)
    return table, place


def _by_id(root: config.Table, key: str, place: str) -> list[tuple[str, config.Table, str]]:
    """The tables in a table: id, table and place of each."""
    found: list[tuple[str, config.Table, str]] = []
    for name in config.table(root, key, place):
        if not _ID.fullmatch(name):
            raise UnusableError(
                f"{place}, {key}: '{name}' cannot be an id; use small letters a to z, digits and "
                "single hyphens."
            )
        table = config.table(root[key], name, f"{place}, {key}")
        found.append((name, table, f"{place}, {key}.{name}"))
    return found


def _machine(root: config.Table, place: str) -> Machine:
    table, place = _part(root, "machine", place, ("kerf", "dot"))
    return Machine(
        kerf=config.number(table, "kerf", place, least=0, most=2),
        dot=config.number(table, "dot", place, least=0, most=2),
    )


def _materials(root: config.Table, place: str) -> tuple[Material, ...]:
    shared, _ = _part(root, "limits", place, _LIMITS)
    # Read once for its own sake, so that a mistake in it is placed where it was made.
    _limits(shared, f"{place}, limits")
    board = config.table(root, "board", place)
    board_size(board, f"{place}, board")
    return tuple(_material(*item, shared, board) for item in _by_id(root, "materials", place))


def _material(
    name: str, table: config.Table, place: str, shared: config.Table, board: config.Table
) -> Material:
    config.check_keys(table, _MATERIAL, place)
    own = config.table(table, "limits", place, {})
    return Material(
        id=name,
        title=config.text(table, "title", place),
        thickness=_length(table, "thickness", place, least=0.1),
        limits=_limits(_over(shared, own), f"{place}.limits"),
        board=board_size(_over(board, config.table(table, "board", place, {})), f"{place}.board"),
        price=read_board_price(table, place),
        unsafe=_unsafe(name, table, place),
        settings=read_settings(table, place, OPERATIONS),
    )


def _unsafe(name: str, table: config.Table, place: str) -> str:
    """Why a material must not be cut, empty where it may.

    One that is called PVC or vinyl is unsafe unless the person says that it is not.
    """
    called = _CHLORIDE.search(f"{name} {table['title']}".casefold())
    if not config.yes_or_no(table, "unsafe", place, called is not None):
        return ""
    return config.text(table, "reason", place, "hydrogen chloride" if called else "marked unsafe")


def _limits(table: config.Table, place: str) -> Limits:
    config.check_keys(table, _LIMITS, place)
    return Limits(**{key: _bound(table, key, place) for key in _LIMITS})


def _hanger(name: str, table: config.Table, place: str) -> Hanger:
    config.check_keys(table, ("title", "hole", "width", "colour", "length"), place)
    title, hole = config.text(table, "title", place), _length(table, "hole", place)
    if hole == 0:
        # Nothing hangs, so there is nothing to draw.
        return Hanger(name, title, hole=0.0, width=0.0, colour=(0, 0, 0))
    width = _length(table, "width", place, least=0.1)
    length = config.number(table, "length", place, 0.0, least=0, most=_LONGEST)
    return Hanger(name, title, hole, width, colour(table, "colour", place), length)


def _groups(root: config.Table, place: str) -> tuple[Group, ...]:
    tables, place = _part(root, "groups", place, OPERATIONS)
    groups: list[Group] = []
    for operation in OPERATIONS:
        table, where = _part(tables, operation, place, ("name", "colour", "depth", "masking"))
        name, shown = config.text(table, "name", where), colour(table, "colour", where)
        same = next((group for group in groups if group.colour == shown), None)
        if same:
            raise UnusableError(
                f"{where}: 'colour' is that of {same.operation}; give each operation its own."
            )
        said = [config.text(table, key, where, "") for key in ("depth", "masking")]
        groups.append(Group(operation, name, shown, *said))
    return tuple(groups)


def _cap_heights(root: config.Table, place: str) -> tuple[tuple[str, Bound], ...]:
    table, place = _part(root, "cap_heights", place, _FIELDS)
    return tuple((field, _bound(table, field, place)) for field in _FIELDS)


def _script_x_height(root: config.Table, place: str) -> Bound:
    table, place = _part(root, "script", place, ("x_height",))
    return _bound(table, "x_height", place)


def _narrowing(root: config.Table, place: str) -> Narrowing:
    table, place = _part(root, "narrowing", place, ("plain", "script"))
    return Narrowing(
        plain=config.number(table, "plain", place, least=0.5, most=1),
        script=config.number(table, "script", place, least=0.5, most=1),
    )


def _selling(root: config.Table, place: str) -> Selling:
    table, place = _part(root, "orders", place, tuple(Selling.__dataclass_fields__))
    return Selling(
        assent=config.texts(table, "assent", place),
        cut_before_payment=config.yes_or_no(table, "cut_before_payment", place),
        drying_days=config.whole(table, "drying_days", place, least=0, most=60),
        packing_days=config.whole(table, "packing_days", place, least=0, most=60),
        pieces_a_day=config.whole(table, "pieces_a_day", place, least=1, most=9999),
        currency=config.text(table, "currency", place),
    )


def _proofs(root: config.Table, place: str) -> Proofs:
    table, place = _part(root, "proofs", place, tuple(Proofs.__dataclass_fields__))
    return Proofs(
        watermark=config.yes_or_no(table, "watermark", place),
        inches=config.yes_or_no(table, "inches", place),
        paper=config.choice(table, "paper", place, tuple(PAPERS)),
    )


def _messages(root: config.Table, place: str) -> tuple[tuple[str, str], ...]:
    """By id; a name after a dollar sign that stands for nothing is refused."""
    table = config.table(root, "messages", place)
    place = f"{place}, messages"
    for wanted in table:
        text = config.text(table, wanted, place)
        template = Template(text)
        unknown = set(template.get_identifiers()) - set(PLACES)
        if unknown or not template.is_valid():
            raise UnusableError(
                f"{place}: '{wanted}' has a $ that stands for nothing "
                f"({', '.join(sorted(unknown)) or 'write $$ for the sign itself'}); "
                f"there are {', '.join(f'${each}' for each in PLACES)}."
            )
    return tuple((wanted, table[wanted]) for wanted in table)


def _bound(parent: config.Table, key: str, place: str) -> Bound:
    table, place = _part(parent, key, place, ("least", "wanted"))
    least, wanted = _length(table, "least", place), _length(table, "wanted", place)
    if least > wanted:
        raise UnusableError(
            f"{place}: 'least' ({least:g}) must not be more than 'wanted' ({wanted:g})."
        )
    return Bound(least, wanted)


def _length(table: config.Table, key: str, place: str, least: float = 0.0) -> float:
    return config.number(table, key, place, least=least, most=_LONGEST)
