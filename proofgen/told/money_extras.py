"""What is printed beside accounts: sheets, and the price that a wage needs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from proofgen.books.accounts import Accounts, Needed
    from proofgen.books.sheet_totals import SheetTotal


def aligned(rows: Sequence[Sequence[str]], words: int) -> list[str]:
    """Columns side by side, the first so many to the left, numbers to the right."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            cell.ljust(width) if i < words else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def sheets_as_text(found: Accounts) -> list[str]:
    """A line a sheet, and what the columns say."""
    rows = [("sheet", "wood", "layers", "board", "minutes", "pays", "profit", "")]
    for each in found.sheets:
        if not each.layers:
            continue
        taken = (sum_as_text(each.bought), f"{each.minutes:.1f}") if each.id else ("", "")
        rows.append(
            (
                *(each.id or "on no sheet", each.wood, str(each.layers), *taken),
                *(sum_as_text(each.income), sum_as_text(each.profit)),
                "" if each.made or not each.id else "still to be cut",
            )
        )
    key = "board: what is bought for it; pays, profit: the layers' shares, by area, of their pieces"
    return [*aligned(rows, 2), key]


def needed_as_text(found: Accounts) -> list[str]:
    """What designs and pieces must cost."""
    money = found.workshop.money
    wage = f"{found.workshop.selling.currency}{money.amount(money.wage):f}"
    lines = [f"to earn {wage} an hour, one piece an order, without delivery, must cost"]
    for each in found.needed:
        span = f"{each.least:f}"
        if each.least != each.most:
            span = f"{span} to {each.most:f}, the middle one {each.middle:f}"
        listed = "no price" if each.listed is None else f"{each.listed:f}"
        count = counted(each.pieces, "piece")
        lines.append(f"    {each.title}: {span} ({count}; catalogue: {listed})")
    lines.append("and by the piece")
    for piece in found.needed_pieces:
        name = piece.order.called
        lines.append(f"    {piece.order.number} {name}, {piece.title}: {piece.price:f}")
    return lines


def counted(number: int, what: str) -> str:
    """A number and what it counts."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def sum_as_text(value: Decimal | None) -> str:
    """A sum, or a dash for none."""
    return "-" if value is None else f"{value:f}"


def sheet_as_dict(each: SheetTotal) -> dict[str, Any]:
    """A sheet for other programs."""
    return {
        "sheet": each.id or None,
        "material": each.wood or None,
        "made": each.made,
        "layers": each.layers,
        "board": sum_or_none(each.bought),
        "machine_minutes": str(each.minutes),
        "income": sum_or_none(each.income),
        "profit": sum_or_none(each.profit),
    }


def sum_or_none(value: Decimal | None) -> str | None:
    """A sum as text, so that no program rounds it."""
    return None if value is None else f"{value:f}"


def needed_as_dict(each: Needed) -> dict[str, Any]:
    """The prices of a design for other programs."""
    sums: Iterable[tuple[str, Decimal | None]] = (
        ("least", each.least),
        ("middle", each.middle),
        ("most", each.most),
        ("listed", each.listed),
    )
    return {
        "design": each.design,
        "pieces": each.pieces,
        **{name: sum_or_none(value) for name, value in sums},
    }
