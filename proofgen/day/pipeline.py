"""What the commands do with the rows of a book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from proofgen.artwork.artwork import Artwork, Made
from proofgen.day.judged import Judged as Judged
from proofgen.day.rows import (
    Done,
    Options as Options,
    Progress as Progress,
    home_in,
    lines_of,
    picture_path,
    piece_stem,
    rows_done,
    shop_for,
    shop_of,
    wanted,
)
from proofgen.day.sets import pages_that_stand, write_pages, write_sets
from proofgen.day.shop import (
    Shop,
    face_digests,
    meaning_in,
    open_bench,
    open_design,
    open_shop,
    picture_record,
)
from proofgen.day.superseded import set_aside
from proofgen.desk.asking import prices, unclear
from proofgen.desk.status import owed
from proofgen.errors import UnusableError
from proofgen.faces.cache import cache_folder
from proofgen.files import write_all, write_bytes
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, stops
from proofgen.orders.order import Line
from proofgen.records.approval import Approval, approval
from proofgen.records.archive import Archive, archive
from proofgen.records.codec import decoded, encoded
from proofgen.records.record import Record
from proofgen.workshop.gone import gone
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

# So many pictures are recorded at once: few enough to lose, enough to be quick.
BATCH = 25


@dataclass(frozen=True, slots=True)
class Run:
    """What a command did: rows in the book's order, flags about the whole book, files by row.

    `earlier` is what older runs drew and was moved away, `left` what tells of all rows and was not
    written anew as only some were asked for, `backup` that of a book that was written
    to, `not_written` why it was not.
    """

    rows: tuple[Made, ...]
    flags: tuple[Flag, ...] = ()
    pictures: Mapping[int, Path] = field(default_factory=dict)
    production: Mapping[int, tuple[Path, ...]] = field(default_factory=dict)
    results: Path | None = None
    contact: Path | None = None
    sets: tuple[Path, ...] = ()
    pages: tuple[Path, ...] = ()
    earlier: tuple[Path, ...] = ()
    left: tuple[Path, ...] = ()
    backup: Path | None = None
    not_written: str = ""


def check(book: Path, options: Options, progress: Progress) -> Run:
    """Judge every row."""
    every, flags = lines_of(book, options)
    with archive(book.resolve().parent) as records:
        rows = tuple(x.made for x in judged(book, every, options, records, progress, None))
    return _written_back(Run(rows, flags), book, options)


def proof(book: Path, options: Options, progress: Progress) -> Run:
    """Judge every row, write a picture for each that may still change, and the results workbook.

    Each picture is recorded before it is written; one of an approved piece that is gone is drawn
    again as it was recorded. A results workbook that is there already stays
    as it is where only some orders were asked for.
    """
    from proofgen.day.contact_sheet import gone_from, write_contact_sheet
    from proofgen.proofs.picture import proof_png
    from proofgen.results.thumbnail import Thumbnails
    from proofgen.results.workbook import check_free, write_results

    out = (options.out or book.parent / "proofs").resolve()
    there = book.resolve().with_name(f"{book.stem}-results.xlsx")
    results = None if options.orders and there.exists() else there
    if results:
        check_free(results)
    contact = out / f"{book.stem}-contact.html"
    every, flags = lines_of(book, options)
    shop = shop_for(book, options)
    rows: list[Made] = []
    pictures: dict[int, Path] = {}
    drawn: list[int] = []
    with archive(book.resolve().parent) as records:
        done = judged(book, every, options, records, progress, out)
        for item in _recorded(done, records, shop, out):
            rows.append(item.made)
            if item.done and item.done.picture:
                drawn.append(item.made.order.source.row)
            picture = picture_path(item.made, out)
            if item.done is None and item.made.artwork and not picture.exists():
                write_bytes(picture, proof_png(item.made, shop.workshop))
            if item.made.artwork and picture.exists():
                pictures[item.made.order.source.row] = picture
        by_order = write_sets(rows, drawn, out, shop.workshop, progress)
        sets = tuple(path for paths in by_order.values() for path in paths)
        pages = write_pages(rows, out, shop.workshop, progress) if options.pdf else ()
        kept = {*sets, *pages, *pages_that_stand(rows, drawn, out)}
        absent = gone_from(contact, every, options)
        earlier = set_aside(rows, absent, kept, out, records)
    if results:
        write_results(results, rows, pictures, Thumbnails(cache_folder()), progress)
        write_contact_sheet(contact, book.stem, rows, pictures, by_order, shop, progress)
    run = Run(
        tuple(rows),
        flags,
        pictures,
        results=results,
        contact=contact if results else None,
        sets=sets,
        pages=pages,
        earlier=earlier,
        left=() if results else tuple(file for file in (there, contact) if file.exists()),
    )
    return _written_back(run, book, options)


def _written_back(run: Run, book: Path, options: Options) -> Run:
    """The run, after its verdicts went into the book itself where that was asked for."""
    if not options.write_back or not run.rows:
        return run
    from proofgen.results.workbook import what_to_do
    from proofgen.results.write_back import Target, write_back

    source = run.rows[0].order.source
    texts = {m.order.source.row: (m.verdict, what_to_do(m), m.code) for m in run.rows}
    try:
        whole = not options.orders and not options.skip_hidden
        backup = write_back(book, Target(source.sheet, source.header, texts, whole))
    except UnusableError as error:
        return replace(run, not_written=str(error))
    return replace(run, backup=backup)


def make(book: Path, options: Options, progress: Progress, everything: bool) -> Run:
    """Write the production files of approved rows, as they were approved.

    With `everything`, also those of rows that do not stop, as they are now.
    """
    every, flags = lines_of(book, options)
    shop = shop_for(book, options)
    out = (options.out or book.parent / "production").resolve()
    due = {} if shop.workshop.selling.cut_before_payment else unpaid(every, shop)
    rows: list[Made] = []
    production: dict[int, tuple[Path, ...]] = {}
    with archive(book.resolve().parent) as records:
        for item in judged(book, every, options, records, progress, None):
            made = item.made
            ready = made.artwork if made.verdict != "stop" else None
            open_ = due.get(made.order.number)
            if ready and open_ and item.done is None and not everything:
                where = made.order.where("paid")
                made = replace(made, flags=(*made.flags, Flag(kinds.NOT_PAID, where, open_)))
            elif ready and (everything or item.done is None):
                paths = _write_layers(made, ready, out, shop.workshop)
                production[made.order.source.row] = paths
            elif ready and not made.order.approved:
                waiting = Flag(kinds.NOT_APPROVED, made.order.where("approved"))
                made = replace(made, flags=(*made.flags, waiting))
            rows.append(made)
    return Run(tuple(rows), flags, production=production)


def unpaid(lines: tuple[Line, ...], shop: Shop) -> dict[str, str]:
    """By order, what is still to be paid of it; a sum that cannot be told is not taken as paid."""
    orders = [line.order for line in lines]
    sums = owed(orders, prices(orders, shop.templates, shop.workshop))
    due = {each.number: str(each.balance) for each in sums if each.balance > 0}
    return {**due, **dict.fromkeys(unclear(lines, shop.workshop), "sums that cannot be told")}


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
            found = Judged(made, approved, _unshown(item) if approved.renumbered else item)
        own = line.order.number, found.piece
        yield replace(found, before=asked[own])
        asked[own] += line.order.quantity


def _unshown(done: Done) -> Done:
    """The same without a picture. That of another number would lie in the place of the approved
    one, and have its code, so that the yes in the row would count for it.
    """
    return replace(done, picture=b"", record=None, sha256="")


def _stands(line: Line, approved: Approval) -> bool:
    """Whether the recorded piece is made: nothing in the row itself stops it."""
    return approved.stands and not stops(line.flags)


def _as_recorded(line: Line, approved: Approval, records: Archive, shop: Shop) -> Made:
    """The row with the artwork that the buyer saw, and a note where it would look different now."""
    record = approved.record
    assert record is not None
    order = line.order
    artwork = decoded(records.artwork(record.artwork), order)
    flags = (*line.flags, *approved.flags, *_outdated(record, artwork, shop))
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


def _recorded(rows: Iterable[Judged], records: Archive, shop: Shop, out: Path) -> Iterator[Judged]:
    """The same, each new picture recorded and then written."""
    batch: list[Judged] = []
    for item in rows:
        batch.append(item)
        if len(batch) == BATCH:
            yield from _kept(batch, records, shop, out)
            batch = []
    yield from _kept(batch, records, shop, out)


def _kept(batch: list[Judged], records: Archive, shop: Shop, out: Path) -> list[Judged]:
    new = [found for item in batch if (found := _to_record(item, records, shop))]
    if new:
        records.add(new)
    drawn = [item for item in batch if item.done and item.done.picture]
    write_all((picture_path(item.made, out), item.done.picture) for item in drawn if item.done)
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
    shown = item.made.code, item.made.order.quantity
    if item.made.artwork is None or any((e.code, e.quantity) == shown for e in known):
        return None
    data = encoded(item.made.artwork)
    return picture_record(item.made, data, shop), data


def _write_layers(made: Made, artwork: Artwork, out: Path, workshop: Workshop) -> tuple[Path, ...]:
    """One drawing a layer; all are drawn before the first is written."""
    from proofgen.production.svg import layer_svg

    drawings: dict[Path, str] = {}
    for layer in artwork.layers:
        for side in dict.fromkeys(("front", *(mark.side for mark in layer.marks))):
            name = f"{piece_stem(made)}-{layer.name}{'-back' if side == 'back' else ''}.svg"
            drawings[out / name] = layer_svg(artwork, layer, made.code, workshop, side)
    for path, drawing in drawings.items():
        write_bytes(path, drawing.encode("utf-8"))
    return tuple(drawings)


def designs(options: Options) -> Shop:
    """The designs there are, with those of the folder that the program is called in."""
    return shop_of(home_in(Path.cwd(), options))


def check_design(
    folder: Path, texts: Mapping[str, str], picture: Path | None, options: Options
) -> tuple[Flag, ...]:
    """What is wrong with a design folder; the picture of a sample, where it is asked for.

    The folder of the maker's own symbols and faces is the one that its folder of designs is in.
    """
    from proofgen.checks.check import check_template, unreadable
    from proofgen.checks.sample import what_can_be_made

    folder = folder.resolve()
    if not folder.is_dir():
        raise UnusableError(f"{folder}: there is no such folder.")
    home = home_in(folder.parents[1], options)
    workshop, bench = load(home.workshop), open_bench(home)
    try:
        template = open_design(folder, home, workshop, bench)
        if folder.parent in home.own("designs"):
            # Its id and title are to be its own.
            fault = open_shop(home).broken.get(folder.name)
            if fault:
                raise UnusableError(fault)
    except UnusableError as error:
        faults = (line.removeprefix(f"{folder}/") for line in str(error).splitlines())
        return tuple(unreadable(fault) for fault in faults)
    unknown = [field for field in texts if field not in template.fields]
    if unknown:
        raise UnusableError(
            f"--text {unknown[0]}=…: the design letters {', '.join(template.fields)}."
        )
    made, flags = check_template(template, texts, workshop, bench)
    if picture:
        from proofgen.proofs.picture import proof_png

        made, said = what_can_be_made(template, made, str(picture), workshop, bench)
        flags = (*flags, *said)
        if made.artwork:
            write_bytes(picture, proof_png(made, workshop))
    return flags
