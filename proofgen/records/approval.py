"""What the Approved cell says about a line, given the pictures of its order."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace

from unicodedata2 import category

from proofgen.flags import kinds
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.order import Order
from proofgen.records.codes import found_codes
from proofgen.records.record import Meant, Record, asked_alike, changed

# Signs that people send for a yes or for joy; any other sign is for a person to read.
YES = frozenset(
    "\U0001f44d\U0001f44c\u2705\u2714\u2611\u2764\u2665\U0001f495\U0001f496\U0001f60d\U0001f970\U0001f60a\U0001f642\U0001f600\U0001f601"
    "\U0001f603\U0001f604\U0001f389\U0001f64f\U0001f4af\U0001f44f\U0001f60e\u2b50\u2728\u2600"
)


# Faces of punctuation that are not pleased, such as ":(" and ":-/".
_SAD = re.compile(r"[:;=]['\u2019]?-?[(\[{<|/\\]")


@dataclass(frozen=True, slots=True)
class Approval:
    """The picture that the buyer approved, if any; it may be made where no flag is more than a
    note but a changed quantity. `alike` are the codes of pictures that show what the line asks for
    now.
    """

    record: Record | None
    flags: tuple[Flag, ...]
    alike: frozenset[str] = frozenset()

    @property
    def stands(self) -> bool:
        """Whether the piece may be made."""
        return self.record is not None and not any(_holds(flag) for flag in self.flags)


def approval(
    order: Order, pictures: tuple[Record, ...], meant: Meant, assent: Collection[str] = ()
) -> Approval:
    """What is approved. `pictures` are those of the order's number, the oldest first; `meant`
    says what a cell's text means, `assent` are the words, in small letters, that say yes or
    nothing.
    """
    alike = frozenset(p.code for p in pictures if asked_alike(p, order, meant))
    found = _approved(order, pictures, meant, assent)
    return replace(found, alike=alike)


def _approved(
    order: Order, pictures: tuple[Record, ...], meant: Meant, assent: Collection[str]
) -> Approval:
    typed, where = order.approved, order.where("approved")
    if not typed.strip():
        return Approval(None, ())
    codes = found_codes(typed, {picture.code for picture in pictures})
    if not codes and not pictures:
        return Approval(None, (Flag(kinds.CODE_UNKNOWN, where, _short(typed), _known(())),))
    if not codes:
        return Approval(None, (Flag(kinds.APPROVAL_MISTYPED, where, _short(typed)),))
    record = _chosen(order, [code for code, _ in codes], pictures, meant)
    if record is None:
        return Approval(None, (Flag(kinds.CODE_UNKNOWN, where, codes[0][0], _known(pictures)),))
    words = _other_words(typed, [text for _, text in codes], assent)
    flags = _differences(order, record, meant)
    if words:
        flags = (*flags, Flag(kinds.APPROVAL_WORDS, where, _short(words), record.code))
    return Approval(record, flags)


def _known(pictures: tuple[Record, ...]) -> str:
    mine = ", ".join(dict.fromkeys(picture.code for picture in pictures))
    return f"there are {mine}" if mine else "none was made yet"


def _chosen(
    order: Order, codes: list[str], pictures: tuple[Record, ...], meant: Meant
) -> Record | None:
    """Of the pictures named, the one of this line: the latest that agrees, else the latest."""
    named = [picture for picture in pictures if picture.code in codes]
    own = [picture for picture in named if picture.line == order.line] or named
    agreeing = [picture for picture in named if not changed(picture, order, meant)]
    return next(iter(reversed(agreeing or own)), None)


def _differences(order: Order, record: Record, meant: Meant) -> tuple[Flag, ...]:
    flags = tuple(
        Flag(kinds.CHANGED_SINCE_APPROVAL, order.where(column), _said(column, old), _said("", new))
        for column, old, new in changed(record, order, meant)
    )
    if order.quantity != record.quantity:
        then, now = str(record.quantity), str(order.quantity)
        flags = (*flags, Flag(kinds.QUANTITY_CHANGED, order.where("quantity"), then, now))
    return flags


def _said(column: str, text: str) -> str:
    return " ".join(part for part in (column, f"'{text}'" if text else "blank") if part)


def _other_words(text: str, codes: list[str], known: Collection[str]) -> str:
    """What is said beside the codes and words of assent, as it stands."""
    for code in codes:
        text = text.replace(code, " ", 1)
    plain = text.replace("\u2019", "'")
    words = re.findall(r"[^\W_]+(?:'[^\W_]+)*", plain)
    doubt = (
        _SAD.search(plain)
        or any(map(_doubts, plain))
        or any(word.lower() not in known for word in words)
    )
    return " ".join(text.split()) if doubt else ""


def _doubts(character: str) -> bool:
    """A question, or a sign that is not known for a yes."""
    asks = character in "?\u00bf\u061f\u037e\uff1f"
    return asks or (category(character) in ("So", "Sm") and character not in YES)


def _holds(flag: Flag) -> bool:
    return flag.kind.severity is Severity.STOP or flag.kind is kinds.APPROVAL_WORDS


def _short(text: str, most: int = 80) -> str:
    text = " ".join(text.split())
    return text if len(text) <= most else f"{text[: most - 1]}…"
