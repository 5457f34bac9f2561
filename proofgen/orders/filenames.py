"""File names made from what somebody typed."""

from __future__ import annotations

import unicodedata2

from proofgen.orders.order import Order

LONGEST = 60  # bytes in UTF-8, so that an ending and a layer's name still fit anywhere
_LONGEST_NUMBER = 20


def stem(order: Order) -> str:
    """A file name without ending, such as "Zoe-Quayle-1042-r12", of letters, digits and "-".

    No two rows of a book share one, because it ends with the row. That suffix also keeps it apart
    from the names that Windows reserves, and without dots and slashes it cannot leave its folder.
    """
    suffix = _suffix(order)
    name = _cut(_safe(order.field("name")), LONGEST - len(suffix.encode()) - 1) or "piece"
    return f"{name}-{suffix}"


def order_stem(order: Order) -> str:
    """A file name without ending for a whole order, such as "order-1042-r12", from its first line.

    The row keeps numbers apart that come out alike here, such as "7.1" and "7-1".
    """
    return f"order-{_suffix(order)}"


def _suffix(order: Order) -> str:
    """The number as far as it may stand in a file name, and the row."""
    number = _cut(_safe(order.number), _LONGEST_NUMBER)
    return "-".join(part for part in (number, f"r{order.source.row}") if part)


def _safe(text: str) -> str:
    """Letters and digits, accents dropped, all else as single "-"; other scripts stay."""
    plain = unicodedata2.normalize("NFKD", text)
    kept = "".join(
        character if character.isalnum() else "-"
        for character in plain
        if unicodedata2.category(character) not in ("Mn", "Cf")
    )
    return "-".join(filter(None, kept.split("-")))


def _cut(text: str, size: int) -> str:
    """The start of the text in at most `size` bytes of UTF-8."""
    return text.encode()[:size].decode(errors="ignore").strip("-")
