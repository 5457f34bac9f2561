"""The page of all rows, written beside their pictures."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.cache import cache_folder
from proofgen.contact.cards import cards
from proofgen.contact.page import orders_on, write_page
from proofgen.day.rows import Options, Progress
from proofgen.day.shop import Shop
from proofgen.desk.messages import message
from proofgen.desk.unplaced import unplaced
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.order import Line
from proofgen.results.thumbnail import Thumbnails
from proofgen.workshop.gone import finish_of, hanger_of

ENDING = "-contact.html"
NAMED = 5  # orders in a sentence


def page_of(book: Path, out: Path) -> Path:
    """Where the page of a book lies, its pictures being in `out`."""
    return out / f"{book.stem}{ENDING}"


def write_contact_sheet(
    path: Path,
    title: str,
    rows: Sequence[Made],
    pictures: Mapping[int, Path],
    sets: Mapping[str, Sequence[Path]],
    approved: Collection[int],
    shop: Shop,
    progress: Progress,
) -> None:
    """Write the page; `pictures` are by row, `sets` those of whole orders by number;
    `approved` are the rows of which the recorded piece stands.
    """

    def worded(pieces: Sequence[Made], whole: Sequence[Made]) -> str:
        return message(pieces, whole, shop.templates, shop.workshop).text

    chosen = {made.order.source.row: _chosen(made, shop) for made in rows}
    found = cards(rows, pictures, sets, chosen, approved, worded)
    write_page(path, f"{shop.workshop.title}: {title}", found, Thumbnails(cache_folder()), progress)


def gone_from(path: Path, every: Sequence[Line], options: Options) -> tuple[str, ...]:
    """The orders that the page of the last run shows and no line of the book has any more.

    None where not all rows were read. The records cannot tell: another book of the folder may have
    those orders. Raises UnusableError where the page cannot be read.
    """
    there = orders_on(path)
    if options.orders or options.skip_hidden:
        return ()
    return tuple(sorted(there.keys() - {line.order.number for line in every}))


def of_other_books(path: Path, every: Sequence[Line]) -> tuple[tuple[Flag, ...], set[Path]]:
    """What is to be looked at where pages of other books beside the page at `path` show orders of
    the same numbers, and the pictures on all of those pages.
    """
    numbers = {line.order.number for line in every} - {""}
    flags: list[Flag] = []
    theirs: set[Path] = set()
    for page in sorted(path.parent.glob(f"*{ENDING}")):
        if page != path and page.is_file():
            orders = orders_on(page)
            theirs.update(*orders.values())
            shared = sorted(numbers & orders.keys())
            if shared:
                file = every[0].order.source.file
                flags.append(Flag(kinds.ORDER_ELSEWHERE, file, _listed(shared), str(page)))
    return tuple(flags), theirs


def _listed(orders: Sequence[str]) -> str:
    """ "order K-1", or the first of them and how many there are."""
    more = f" and {len(orders) - NAMED} more" if len(orders) > NAMED else ""
    return f"order{'s' if len(orders) > 1 else ''} {', '.join(orders[:NAMED])}{more}"


def _chosen(made: Made, shop: Shop) -> tuple[tuple[str, str], ...]:
    """What was chosen, pairs of column and choice, in the workshop's words where the piece can be
    made; a finish of several layers is one of several. What the piece has not is marked so.
    """
    workshop = shop.workshop
    left = unplaced(made, shop.templates, workshop)
    typed = tuple(pair for pair in made.order.options if pair not in left)
    if made.artwork:
        finishes = (finish_of(workshop, layer.finish).title for layer in made.artwork.layers)
        hanger = hanger_of(workshop, made.artwork.hanger)
        drawn = [("finish", title) for title in dict.fromkeys(finishes)]
        drawn.append(("hanger", hanger.title if hanger else ""))
        typed = (*drawn, *(pair for pair in typed if pair[0] not in ("finish", "hanger")))
    if made.order.quantity > 1:
        typed = (("quantity", str(made.order.quantity)), *typed)
    marked = ((f"{column}, not on the piece", text) for column, text in left)
    return (*((column, text) for column, text in typed if text), *marked)
