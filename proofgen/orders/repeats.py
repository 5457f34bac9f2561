"""What can only be seen by comparing rows: line counts, repeated lines, numbers that are alike."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.order import Line, Order

_ZEROS_BEFORE = re.compile(r"(?<![0-9])0+(?=[0-9])")


def compared(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines, counted within their order number and flagged where they repeat another.

    What is compared is kept as hashes of 64 bits, since whole texts of 100,000 rows take too much;
    two of so many differ and are taken for alike once in some billion books.
    """
    count: Counter[str] = Counter()
    rows: dict[int, int] = {}
    spelled: dict[int, str] = {}
    named: dict[int, int] = {}
    buyers: dict[str, tuple[str, int]] = {}
    done = []
    for line in lines:
        order = line.order
        count[order.number] += 1
        first = rows.setdefault(hash(_content(order)), order.source.row)
        other = spelled.setdefault(hash(_key(order.number)), order.number)
        flags = list(line.flags)
        again = named.setdefault(hash(_asked(order)), order.source.row) if order.buyer else 0
        if again and again != order.source.row and first == order.source.row:
            flags.append(Flag(kinds.NAME_AGAIN, order.where("name"), str(again)))
        if first != order.source.row and order.number:
            flags.append(Flag(kinds.LINE_REPEATED, order.where(), subject=str(first)))
        if order.number and order.buyer:
            buyer, row = buyers.setdefault(order.number, (order.buyer, order.source.row))
            if _folded(buyer) != _folded(order.buyer):
                where = order.where("order")
                flags.append(Flag(kinds.ORDER_SHARED, where, buyer, str(row), order.buyer))
        if other != order.number:
            flags.append(Flag(kinds.ORDER_ALIKE, order.where("order"), subject=other))
        done.append(Line(replace(order, line=count[order.number]), tuple(flags)))
    return tuple(done)


def _content(order: Order) -> tuple[object, ...]:
    return order.number, order.design, order.fields, order.options


def _asked(order: Order) -> tuple[str, str]:
    """Who asked for which name."""
    return _folded(order.buyer), _folded(order.field("name"))


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _key(number: str) -> str:
    """The number without letter case, spaces and leading zeros."""
    return _ZEROS_BEFORE.sub("", "".join(number.split()).casefold())
