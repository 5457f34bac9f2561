"""What is printed about a book on a day: for a person, or one JSON object for a program."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from proofgen.desk.status import CATALOGUE, QUOTED, counts
from proofgen.told.printed import as_object

if TYPE_CHECKING:
    from pathlib import Path

    from proofgen.day.daybook import Day
    from proofgen.desk.messages import Message
    from proofgen.desk.status import Owed, Room, Standing
    from proofgen.orders.order import Order
    from proofgen.starting.next_year import Following

_VERSION = 1


def as_text(day: Day) -> str:
    """The steps with how many pieces are at each, what is late, what is owed, what has room."""
    lines = [f"{day.today:%Y-%m-%d}"]
    found = counts(day.standings)
    for step, count in found.items():
        if count:
            lines.append(f"{count:5}  {step}{_names(step, day.standings)}")
    late = [each for each in day.standings if each.late]
    lines += [f"late: {_line(each)}, due {each.order.due}" for each in late]
    lines += [
        f"{_whose(each.order)} is {each.step}, and its row stops now: {each.stopped_by}"
        for each in day.standings
        if each.stopped_by
    ]
    lines += [_debt(each, day.currency) for each in day.owed]
    if day.soonest:
        lines.append(
            f"one more, approved today, can be handed over on {day.soonest} at the soonest"
        )
    return "\n".join([*lines, *_room(day.room)])


def as_json(day: Day) -> str:
    """The same, in full."""
    room = day.room
    return as_object(
        {
            "version": _VERSION,
            "today": day.today.isoformat(),
            "lines": [_standing(each) for each in day.standings],
            "owed": [_owed(each) for each in day.owed],
            "room": room
            and {
                "by": room.by.isoformat(),
                "before": room.before,
                "last": room.last and room.last.isoformat(),
            },
            "soonest": day.soonest and day.soonest.isoformat(),
        }
    )


def messages_as_text(messages: Sequence[Message]) -> str:
    """The messages one after another, parted by a line."""
    return f"\n{'-' * 40}\n".join(each.text for each in messages) or "no picture to send"


def messages_as_json(messages: Sequence[Message]) -> str:
    """The messages by order."""
    found = [{"order": each.number, "text": each.text} for each in messages]
    return as_object({"version": _VERSION, "messages": found})


def following_as_text(file: Path, found: Following) -> str:
    """The new book, and who is not in it by the reason."""
    lines = [f"{found.rows} {'row' if found.rows == 1 else 'rows'} in {file}"]
    reasons: dict[str, list[str]] = {}
    for order, why in found.left:
        reasons.setdefault(why, []).append(_whose(order))
    lines += [f"left out, {why}: {'; '.join(whose)}" for why, whose in reasons.items()]
    if found.dropped:
        what = "; ".join(f"{_whose(order)}: {what}" for order, what in found.dropped)
        lines.append(f"not carried over: {what}")
    return "\n".join([*lines, "Set edition_year in the workshop file when you begin it."])


def following_as_json(file: Path, found: Following) -> str:
    """The same for other programs."""
    left = [
        {"order": order.number, "line": order.line, "row": order.source.row, "why": why}
        for order, why in found.left
    ]
    dropped = [
        {"order": order.number, "line": order.line, "row": order.source.row, "what": what}
        for order, what in found.dropped
    ]
    told = {"version": _VERSION, "book": str(file), "rows": found.rows, "left_out": left}
    return as_object({**told, "not_carried_over": dropped})


def _names(step: str, standings: Sequence[Standing]) -> str:
    """Who it is, where somebody has to do something about it."""
    if step in ("collected", "packed", "made"):
        return ""
    lines = [_line(each) for each in standings if each.step == step]
    return ": " + "; ".join(lines)


def _line(each: Standing) -> str:
    days = f" ({each.waited} {'day' if each.waited == 1 else 'days'})" if each.waited else ""
    made = f" ({each.made} of {each.order.quantity} made)" if each.made else ""
    return f"{_whose(each.order)}{days}{made}"


def _whose(order: Order) -> str:
    """Number and name; for a row that has neither, the row."""
    name = order.called
    return " ".join(filter(None, (order.number, name))) or f"row {order.source.row}"


def _debt(each: Owed, currency: str) -> str:
    whose = " ".join(filter(None, (each.number, each.buyer))) or f"row {each.row}"
    if each.unclear:
        paid = f"; paid {currency}{each.paid:f}" if each.paid else ""
        return f"what is owed cannot be told: {whose}: {each.unclear}{paid}"
    what = "owed" if each.balance > 0 else "paid too much" if each.source else "paid, without price"
    by = " (by the catalogue)" if each.source == CATALOGUE else ""
    return f"{what}: {whose}: {currency}{abs(each.balance):f}{by}"


def _room(room: Room | None) -> list[str]:
    if room is None:
        return []
    before = f"{room.before} {'piece comes' if room.before == 1 else 'pieces come'} before it"
    if room.last is None:
        return [f"no room for one more by {room.by}: {before}"]
    return [f"one more can be handed over by {room.by}, if it is approved by {room.last}: {before}"]


def _standing(each: Standing) -> dict[str, Any]:
    return {
        "order": each.order.number,
        "line": each.order.line,
        "row": each.order.source.row,
        "step": each.step,
        "waited": each.waited,
        "late": each.late,
        "made": each.made,
        "stopped_by": each.stopped_by or None,
    }


def _owed(each: Owed) -> dict[str, str | None]:
    """Whose it is and sums as texts; null is what is not known."""
    asked = f"{each.price:f}" if each.source else None
    return {
        "order": each.number,
        "buyer": each.buyer,
        "price": each.source,
        "asked": asked,
        "quoted": asked if each.source == QUOTED else None,
        "paid": f"{each.paid:f}",
        "balance": None if each.unclear else f"{each.balance:f}",
        "unclear": each.unclear or None,
    }
