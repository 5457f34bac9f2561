"""Reading what the workshop file says of money."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from itertools import pairwise

from proofgen import config
from proofgen.errors import UnusableError
from proofgen.workshop.money import HAND_STEPS, MINUTES_DECIMALS, BoardPrice, Delivery, Fees, Money
from proofgen.workshop.workshop import Catalogue

_KEYS = (
    *("decimals", "hourly_wage", "machine_minute", "waste", "loss", "hand_minutes", "extras"),
    *("fees", "family_discount", "delivery"),
)
_COLUMNS = ("size", "finish", "hanger", "symbol")
_MOST = 1e6  # whatever is dearer was typed in another currency
_MOST_SHARE = 0.9  # of waste, fees, discounts; beyond that nothing can be earned
_MOST_PIECES = 999


def read_money(root: config.Table, place: str) -> Money:
    """The table [money]; UnusableError naming file and key."""
    table, place = config.table(root, "money", place), f"{place}, money"
    config.check_keys(table, _KEYS, place)
    return Money(
        decimals=config.whole(table, "decimals", place, most=3),
        wage=typed(table, "hourly_wage", place),
        machine_minute=typed(table, "machine_minute", place),
        waste=_share(table, "waste", place),
        loss=_share(table, "loss", place),
        hand=_hand(table, place),
        extras=_extras(table, place),
        fees=_fees(table, place),
        family=_family(table, place),
        deliveries=_deliveries(table, place),
    )


def read_catalogue(
    root: config.Table, place: str, money: Money, ids: Mapping[str, Collection[str]]
) -> Catalogue:
    """The table [catalogue]. `ids` are the choices there are, by column, where they are known."""
    table, place = config.table(root, "catalogue", place), f"{place}, catalogue"
    config.check_keys(table, ("designs", "prices", "options", "unpriced"), place)
    prices, where = config.table(table, "prices", place), f"{place}, prices"
    return Catalogue(
        designs=config.texts(table, "designs", place),
        prices=tuple((each, money.amount(typed(prices, each, where))) for each in prices),
        options=tuple(_options(table, place, money, ids)),
        # Blank is a choice here, as nowhere else.
        unpriced="" if table.get("unpriced") == "" else config.text(table, "unpriced", place),
    )


def _options(
    table: config.Table, place: str, money: Money, ids: Mapping[str, Collection[str]]
) -> Iterator[tuple[str, str, Decimal]]:
    columns, place = config.table(table, "options", place), f"{place}, options"
    config.check_keys(columns, _COLUMNS, place)
    for column in columns:
        choices, where = config.table(columns, column, place), f"{place}, {column}"
        config.check_keys(choices, ids.get(column, choices), where)
        for each in choices:
            yield column, each, money.amount(typed(choices, each, where, least=-_MOST))


def read_board_price(material: config.Table, place: str) -> BoardPrice | None:
    """What a board of a material costs, None where the material does not say."""
    table, place = config.table(material, "price", place, None), f"{place}, price"
    if table is None:
        return None
    config.check_keys(table, ("amount", "width", "height"), place)
    return BoardPrice(
        amount=typed(table, "amount", place),
        width=typed(table, "width", place, least=1, most=5000),
        height=typed(table, "height", place, least=1, most=5000),
    )


def typed(
    table: config.Table, key: str, place: str, *, least: float = 0, most: float = _MOST
) -> Decimal:
    """A number exactly as it was typed."""
    # repr is the shortest text that reads as that number: what the person typed.
    return Decimal(repr(config.number(table, key, place, least=least, most=most)))


def _share(table: config.Table, key: str, place: str) -> Decimal:
    return typed(table, key, place, most=_MOST_SHARE)


def _hand(table: config.Table, place: str) -> tuple[tuple[str, Decimal], ...]:
    """Minutes by step."""
    own, place = config.table(table, "hand_minutes", place), f"{place}, hand_minutes"
    config.check_keys(own, HAND_STEPS, place)
    return tuple(
        (step, round(typed(own, step, place, most=600), MINUTES_DECIMALS)) for step in HAND_STEPS
    )


def _extras(table: config.Table, place: str) -> tuple[tuple[str, Decimal], ...]:
    own, place = config.table(table, "extras", place), f"{place}, extras"
    return tuple((each, typed(own, each, place)) for each in own)


def _fees(table: config.Table, place: str) -> Fees:
    own, place = config.table(table, "fees", place), f"{place}, fees"
    config.check_keys(own, ("share", "fixed"), place)
    return Fees(_share(own, "share", place), typed(own, "fixed", place))


def _family(table: config.Table, place: str) -> tuple[tuple[int, Decimal], ...]:
    """By number of pieces, rising; more pieces never get less off."""
    own, place = config.table(table, "family_discount", place), f"{place}, family_discount"
    for key in own:
        if not (key.isascii() and key.isdigit() and 2 <= int(key) <= _MOST_PIECES):
            raise UnusableError(
                f"{place}: '{key}' must be a number of pieces between 2 and {_MOST_PIECES}."
            )
    steps = sorted((int(key), _share(own, key, place)) for key in own)
    for (fewer, more_off), (pieces, off) in pairwise(steps):
        if pieces == fewer or off < more_off:
            raise UnusableError(
                f"{place}: {pieces} pieces must get more off than {fewer}; write each number once."
            )
    return tuple(steps)


def _deliveries(table: config.Table, place: str) -> tuple[Delivery, ...]:
    own, place = config.table(table, "delivery", place), f"{place}, delivery"
    found: list[Delivery] = []
    for way in own:
        said, where = config.table(own, way, place), f"{place}.{way}"
        config.check_keys(said, ("asked", "costs"), where)
        found.append(Delivery(way, typed(said, "asked", where), typed(said, "costs", where)))
    return tuple(found)
