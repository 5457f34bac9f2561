"""The text that goes with the picture of an order."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from string import Template as Text

from proofgen.artwork.artwork import Made
from proofgen.designs.design import Template
from proofgen.desk.asking import asked_for, quoted_for, unclear
from proofgen.desk.unplaced import unplaced
from proofgen.flags import kinds
from proofgen.orders.order import ORDER
from proofgen.orders.text import in_words, letters
from proofgen.workshop.workshop import USUAL_MESSAGE, Workshop

SPACE = "\N{OPEN BOX}"
PIECES = "\0"  # where they come, which no cell can hold


@dataclass(frozen=True, slots=True)
class Message:
    """A text for one order; `apart` are the rows of it that stop, whose pieces it does not name."""

    number: str
    text: str
    apart: tuple[int, ...] = ()


def message(
    pieces: Sequence[Made],
    whole: Sequence[Made],
    templates: Mapping[str, Template],
    workshop: Workshop,
) -> Message:
    """The message for pieces of one order, each of which has artwork; `whole` are all its rows,
    whose price it names.

    A design with a wording of its own, as for a remembrance piece, words the whole order.
    """
    order = pieces[0].order
    found = [templates.get(made.artwork.design) for made in pieces if made.artwork]
    wordings = [template.message for template in found if template]
    kind = next((kind for kind in wordings if kind != USUAL_MESSAGE), USUAL_MESSAGE)
    titles = dict.fromkeys(made.artwork.title for made in pieces if made.artwork)
    said = Text(dict(workshop.messages)[kind]).substitute(
        order=order.number,
        buyer=order.buyer,
        title=in_words(titles),
        pieces=PIECES,
        price=_price(pieces, whole, templates, workshop),
        code=", ".join(dict.fromkeys(made.code for made in pieces)),
        edition=str(workshop.edition_year),
    )
    # What is lettered is said as it is, also its spaces before a comma.
    lines = [
        line
        for made in pieces
        for line in (*_piece(made, len(pieces) > 1), *_without(made, templates, workshop))
    ]
    return Message(order.number, _smooth(said).replace(PIECES, "\n".join(lines)))


def recounted(made: Made) -> bool:
    """Whether another number is asked for than was approved, so that the buyer is to be told."""
    return any(flag.kind is kinds.QUANTITY_CHANGED for flag in made.flags)


def _smooth(text: str) -> str:
    """Without the gaps that blank places leave: "Hello , here" and doubled blank lines."""
    lines = "\n".join(line.rstrip() for line in text.strip().splitlines())
    return re.sub(r"\n{3,}", "\n\n", re.sub(r" +,", ",", lines))


def spelled(text: str) -> str:
    """A line letter by letter, with spaces made visible: "I d a ␣ B o"."""
    return " ".join(SPACE if c == " " else c for c in letters(text))


def _piece(made: Made, several: bool) -> list[str]:
    """The texts of a piece as they will be lettered."""
    lettered = made.artwork.lettering if made.artwork else ()
    fields = dict.fromkeys(each.field for each in lettered if each.field != ORDER)
    number = made.order.quantity
    said = f" ({number} {'piece' if number == 1 else 'pieces'})"
    count = said if number > 1 or recounted(made) else ""
    lines = [
        f"  {label}: {line}" + (f"   {spelled(line)}" if field == "name" else "")
        for field in fields
        for label, line in _lines(field, made.asked(field))
    ]
    head = [f"{made.code}{count}:"] if several or count else []
    return [*head, *lines]


def _without(made: Made, templates: Mapping[str, Template], workshop: Workshop) -> tuple[str, ...]:
    """What of the row the piece has not, for its buyer: "without inscription and that size"."""
    columns = [column for column, _ in unplaced(made, templates, workshop)]
    chosen = dict(made.order.options)
    parts = [f"that {column}" if column in chosen else column for column in columns]
    return (f"  without {in_words(parts)}",) if parts else ()


def _lines(field: str, text: str) -> list[tuple[str, str]]:
    """The lines of a text, each with what it stands under."""
    lines = text.split("\n")
    if len(lines) == 1:
        return [(field, text)]
    return [(f"{field}, line {number}", line) for number, line in enumerate(lines, 1)]


def _price(
    pieces: Sequence[Made],
    whole: Sequence[Made],
    templates: Mapping[str, Template],
    workshop: Workshop,
) -> str:
    """What the whole order costs and what is paid of it; empty where that cannot be told."""
    if unclear(whole, workshop):
        return ""
    orders = [made.order for made in whole]
    price = quoted_for(orders)
    # A row that stops may become another piece, so that the catalogue's price is open.
    if price is None and all(made.artwork for made in whole):
        price = asked_for(orders, templates, workshop)
    if not price:
        return ""
    paid = sum((order.paid or Decimal() for order in orders), Decimal())
    currency = workshop.selling.currency
    open_ = f", of which {currency}{paid} is paid" if paid else ""
    what = "price of the whole order" if len(pieces) < len(whole) else "price"
    return f"The {what} is {currency}{price}{open_}."
