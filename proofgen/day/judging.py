"""Rows with what their Approved cells say: what is approved is not done again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Artwork, Made
from proofgen.day.rows import Done, Options, Progress, rows_done, shop_for, wanted
from proofgen.day.shop import Shop, face_digests, meaning_in
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, Severity, stops
from proofgen.orders.order import Line
from proofgen.records.approval import Approval, approval
from proofgen.records.archive import Archive
from proofgen.records.codec import decoded
from proofgen.records.record import Record, feeding, piece_key
from proofgen.workshop.gone import gone, tones


@dataclass(frozen=True, slots=True)
class Judged:
    """A row with what its Approved cell says; `done` is None where the recorded piece stands. Rows
    above it in its order ask for the same piece, so many copies of it as `before` says.
    """

    made: Made
    approval: Approval
    done: Done | None = None
    before: int = 0

    @property
    def piece(self) -> str:
        """The key of its piece: of the approved one, if there is one."""
        record = self.approval.record
        return piece_key(self.made.order, record.code if record else self.made.code)

    @property
    def called(self) -> str:
        """The name on its piece, on one line; that of the row may have been changed since."""
        record, order = self.approval.record, self.made.order
        if record is None:
            return order.called
        then, now = (dict(cells).get("name", "") for cells in (record.cells, feeding(order)))
        return order.called if then == now else " ".join(then.split())

    @property
    def stopped_by(self) -> str:
        """What stops the row now, whatever was made of it; empty where nothing does."""
        said = (f.text for f in self.made.flags if f.kind.severity is Severity.STOP)
        return next(said, "")

    def share(self, copies: int) -> int:
        """How many of so many copies of its piece are this row's."""
        return max(min(copies - self.before, self.made.order.quantity), 0)


def judged(
    book: Path,
    every: tuple[Line, ...],
    options: Options,
    records: Archive,
    progress: Progress,
    pictures: Path | None,
) -> Iterator[Judged]:
    """The rows that were asked for, in the book's order. What is approved is not done again."""
    lines = wanted(every, options, book)
    shop = shop_for(book, options)
    assent = shop.workshop.selling.assent
    approvals = [
        approval(
            line.order,
            records.pictures(line.order.number),
            meaning_in(shop, line.order),
            assent,
        )
        for line in lines
    ]
    pairs = list(zip(lines, approvals, strict=True))
    others = tuple(line for line, approved in pairs if not _stands(line, approved))
    done = rows_done(book, every, others, options, progress, pictures)
    asked: Counter[tuple[str, str]] = Counter()
    for line, approved in pairs:
        if _stands(line, approved):
            found = Judged(_as_recorded(line, approved, records, shop), approved)
        else:
            item = next(done)
            made = replace(item.made, flags=(*item.made.flags, *approved.flags))
            found = Judged(made, approved, item)
        own = line.order.number, found.piece
        yield replace(found, before=asked[own])
        asked[own] += line.order.quantity


def _stands(line: Line, approved: Approval) -> bool:
    """Whether the recorded piece is made: nothing in the row itself stops it."""
    return approved.stands and not stops(line.flags)


def _as_recorded(line: Line, approved: Approval, records: Archive, shop: Shop) -> Made:
    """The row with the artwork that the buyer saw, and flags where it would look different now."""
    record = approved.record
    assert record is not None
    order = line.order
    artwork = decoded(records.artwork(record.artwork), order)
    changed = (*_outdated(record, artwork, shop), *_recoloured(record, artwork, shop))
    flags = (*line.flags, *approved.flags, *changed)
    return Made(order, artwork, flags, record.code)


def _outdated(record: Record, artwork: Artwork, shop: Shop) -> tuple[Flag, ...]:
    template = shop.templates.get(record.design)
    said = []
    if template is None or template.sha256 != record.design_sha256:
        said.append(f"the design {artwork.title}")
    if face_digests(artwork, shop) != record.faces:
        said.append("a lettering face")
    said += gone(shop.workshop, (layer.finish for layer in artwork.layers), artwork.hanger)
    if not said:
        return ()
    where = artwork.order.where("approved")
    return (Flag(kinds.MADE_AS_RECORDED, where, record.code, None, " and ".join(said)),)


def _recoloured(record: Record, artwork: Artwork, shop: Shop) -> Iterator[Flag]:
    """What is recorded is drawn and stained in the colours that the workshop has now."""
    seen = dict(record.finishes)
    where = artwork.order.where("approved")
    for finish, now in tones(shop.workshop, (layer.finish for layer in artwork.layers)):
        if now != seen.get(finish, now):
            title = shop.workshop.finish(finish).title
            yield Flag(kinds.FINISH_RECOLOURED, where, record.code, None, title)
