"""What the commands do with the rows of a book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from proofgen.artwork.artwork import Artwork, Made
from proofgen.cache import cache_folder
from proofgen.day.judging import judged
from proofgen.day.recording import recorded
from proofgen.day.rows import (
    Options as Options,
    Progress as Progress,
    lines_of,
    picture_path,
    piece_stem,
    shop_for,
)
from proofgen.day.sets import pages_that_stand, shows, write_pages, write_sets
from proofgen.day.shop import Shop
from proofgen.day.superseded import Shown, set_aside
from proofgen.desk.asking import prices, unclear
from proofgen.desk.messages import recounted
from proofgen.desk.status import owed
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.order import Line
from proofgen.progress import stage
from proofgen.records.archive import archive
from proofgen.workshop.workshop import Workshop


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

    Each picture is recorded before it is written; one of an approved piece that is gone, or says
    another quantity, is drawn again as it was recorded. No picture is overwritten by another one.
    A results workbook that is there already stays as it is where only some orders were asked for.
    """
    from proofgen.day.contact_sheet import gone_from, of_other_books, page_of, write_contact_sheet
    from proofgen.proofs.picture import proof_png
    from proofgen.results.thumbnail import Thumbnails
    from proofgen.results.workbook import check_free, write_results

    out = (options.out or book.parent / "proofs").resolve()
    shown = Shown(out)
    there = book.resolve().with_name(f"{book.stem}-results.xlsx")
    results = None if options.orders and there.exists() else there
    if results:
        check_free(results)
    contact = page_of(book, out)
    every, flags = lines_of(book, options)
    absent = gone_from(contact, every, options) if results else ()
    about, theirs = of_other_books(contact, every)
    shop = shop_for(book, options)
    rows: list[Made] = []
    pictures: dict[int, Path] = {}
    drawn: list[int] = []
    approved: list[int] = []
    with archive(book.resolve().parent) as records:
        done = judged(book, every, options, records, stage(progress, "pictures"), out)
        for item in recorded(done, records, shop, shown):
            rows.append(item.made)
            if item.done and item.done.picture:
                drawn.append(item.made.order.source.row)
            if item.done is None and not recounted(item.made):
                approved.append(item.made.order.source.row)
            picture = picture_path(item.made, out)
            if item.done is None and item.made.artwork and not shows(picture, [item.made]):
                shown.write([(picture, proof_png(item.made, shop.workshop))])
            if item.made.artwork and picture.exists():
                pictures[item.made.order.source.row] = picture
        by_order = write_sets(rows, drawn, shown, shop.workshop, stage(progress, "whole orders"))
        sets = tuple(path for paths in by_order.values() for path in paths)
        paged = rows if options.pdf else ()
        pages = write_pages(paged, shown, shop.workshop, stage(progress, "pages"))
        kept = {*sets, *pages, *pages_that_stand(rows, out, shop.workshop), *theirs}
        earlier = (*shown.earlier, *set_aside(rows, absent, kept, out, records))
    if results:
        told = stage(progress, "results")
        write_results(results, rows, pictures, Thumbnails(cache_folder()), told)
        told = stage(progress, "contact sheet")
        write_contact_sheet(contact, book.stem, rows, pictures, by_order, approved, shop, told)
    run = Run(
        tuple(rows),
        (*flags, *about),
        pictures,
        results=results,
        contact=contact if results else None,
        sets=sets,
        pages=pages,
        earlier=earlier,
        left=() if results else tuple(file for file in (there, contact) if file.exists()),
    )
    return _written_back(run, book, options)


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
