"""Pictures of rows, each recorded before it is written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from time import monotonic

from proofgen.day.judging import Judged
from proofgen.day.rows import picture_path
from proofgen.day.shop import Shop, picture_record
from proofgen.day.superseded import Shown
from proofgen.records.archive import Archive
from proofgen.records.codec import encoded
from proofgen.records.record import Record

# So many pictures are recorded at once, or those of so many seconds: few enough to lose where the
# computer goes off, enough to be quick.
BATCH, SECONDS = 25, 2.0


def recorded(rows: Iterable[Judged], records: Archive, shop: Shop, out: Shown) -> Iterator[Judged]:
    """The same, each new picture recorded and then written; also those that were finished where
    the run is stopped.
    """
    batch: list[Judged] = []
    since = monotonic()
    try:
        for item in rows:
            batch.append(item)
            if len(batch) == BATCH or monotonic() - since > SECONDS:
                full, batch, since = batch, [], monotonic()
                yield from _kept(full, records, shop, out)
    except BaseException:
        _kept(batch, records, shop, out)
        raise
    yield from _kept(batch, records, shop, out)


def _kept(batch: list[Judged], records: Archive, shop: Shop, out: Shown) -> list[Judged]:
    new = [found for item in batch if (found := _to_record(item, records, shop))]
    if new:
        records.add(new)
    drawn = [(x.made, x.done.picture) for x in batch if x.done and x.done.picture]
    out.write((picture_path(made, out.folder), picture) for made, picture in drawn)
    return batch


def _to_record(item: Judged, records: Archive, shop: Shop) -> tuple[Record, bytes] | None:
    """What is to be kept of a row's picture; a picture of the last time is recorded already,
    unless the records were moved away since.
    """
    if item.done is None or not item.done.sha256:
        return None
    if item.done.record:
        return item.done.record, item.done.artwork
    known = records.pictures(item.made.order.number)
    if item.made.artwork is None or any(each.code == item.made.code for each in known):
        return None
    data = encoded(item.made.artwork)
    return picture_record(item.made, data, shop), data
