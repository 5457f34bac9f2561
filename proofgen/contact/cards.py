"""What the contact sheet says of each row."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Made, by_order
from proofgen.orders.order import ORDER
from proofgen.orders.text import in_words

APPROVED = "Approved: there is nothing to ask."


@dataclass(frozen=True, slots=True)
class Card:
    """A row: `title` is its design's, its id where no row of that design can be made; `texts` are
    pairs of field and text, of a piece those that it letters, `chosen` of column and choice;
    `flags` are of severity, sentence and what to do; `message` goes with the picture and is blank
    where there is none, `apart` says which rows of its order stop and so are not in it, or why
    there is none; `sets` show the whole order.
    """

    order: str
    row: int
    buyer: str
    title: str
    verdict: str
    code: str
    texts: tuple[tuple[str, str], ...]
    flags: tuple[tuple[str, str, str], ...]
    message: str
    picture: Path | None
    chosen: tuple[tuple[str, str], ...] = ()
    sets: tuple[Path, ...] = ()
    apart: str = ""


def cards(
    rows: Iterable[Made],
    pictures: Mapping[int, Path],
    sets: Mapping[str, Sequence[Path]],
    chosen: Mapping[int, tuple[tuple[str, str], ...]],
    approved: Collection[int],
    message: Callable[[Sequence[Made], Sequence[Made]], str],
) -> tuple[Card, ...]:
    """A card a row, in their order; `pictures` and what was `chosen` are by row, the `sets` of
    pictures by order; `approved` are the rows that nobody is asked about any more; `message` words
    that of all other pieces of one order, given these and all its rows.
    """
    rows = tuple(rows)
    orders = by_order(made for made in rows if _asked(made, approved))
    whole = by_order(rows)
    apart = {number: _apart(pieces) for number, pieces in whole.items()}
    titles = _titles(rows)
    worded = {number: message(pieces, whole[number]) for number, pieces in orders.items()}
    found = (
        _card(
            made,
            titles.get(made.order.design.casefold(), made.order.design),
            pictures.get(made.order.source.row),
            worded[made.order.number] if _asked(made, approved) else "",
        )
        for made in rows
    )
    return tuple(
        replace(
            card,
            chosen=chosen.get(card.row, ()),
            sets=tuple(sets.get(card.order, ())),
            apart=apart[card.order] if card.message else APPROVED if card.row in approved else "",
        )
        for card in found
    )


def _asked(made: Made, approved: Collection[int]) -> bool:
    return made.artwork is not None and made.order.source.row not in approved


def _apart(pieces: Iterable[Made]) -> str:
    """Which pieces of an order its message does not name."""
    stopped = [str(made.order.source.row) for made in pieces if made.artwork is None]
    if not stopped:
        return ""
    what = f"Row {stopped[0]}" if len(stopped) == 1 else f"Rows {in_words(stopped)}"
    verb, them = ("stops", "it") if len(stopped) == 1 else ("stop", "them")
    return f"{what} of this order {verb}: the message is without {them}."


def _titles(rows: tuple[Made, ...]) -> dict[str, str]:
    """The designs' titles by what rows call them, as far as rows that can be made tell."""
    made = [(row.order.design, row.artwork) for row in rows if row.artwork]
    ids = {artwork.design: artwork.title for _, artwork in made}
    return ids | {typed.casefold(): artwork.title for typed, artwork in made}


def _card(made: Made, title: str, picture: Path | None, message: str) -> Card:
    order = made.order
    lettered = {each.field for each in made.artwork.lettering} if made.artwork else None
    ranked = sorted(made.flags, key=lambda flag: -flag.kind.severity.rank)
    return Card(
        order=order.number,
        row=order.source.row,
        buyer=order.buyer,
        title=title,
        verdict=made.verdict,
        code=made.code,
        texts=tuple(
            (field, text)
            for field, text in order.fields
            if field != ORDER and text and (lettered is None or field in lettered)
        ),
        flags=tuple(
            (flag.kind.severity.value, f"{flag.where}: {flag.says}.", flag.to_do) for flag in ranked
        ),
        message=message,
        picture=picture,
    )
