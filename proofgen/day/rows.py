"""The rows of a book, each done once: by any process, or remembered from the last time."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING

from proofgen.artwork.artwork import Made
from proofgen.cache import cache_folder
from proofgen.day.shop import Home, Shop, make_row, open_shop, picture_record, understood
from proofgen.designs.resolve import find
from proofgen.errors import UnusableError
from proofgen.flags.flag import Flag
from proofgen.orders.columns import KNOWN
from proofgen.orders.filenames import stem
from proofgen.orders.order import Line
from proofgen.records.archive import archive
from proofgen.records.codec import encoded
from proofgen.records.memory import Memory, Remembered, key_of
from proofgen.records.record import Record

if TYPE_CHECKING:
    from multiprocessing.context import BaseContext

Progress = Callable[[int, int], None]

# A second process pays for its start from about this many rows.
WORTH_A_POOL = 40
# So many rows are remembered at once, or those of so many seconds.
BATCH, SECONDS = 50, 2.0
# So many rows go to a process at once: more would keep the others waiting for the last ones.
CHUNK = 2
PACKAGE = Path(__file__).parents[1]


@dataclass(frozen=True, slots=True)
class Options:
    """What every command takes. `jobs` is the number of processes, 0 for what suits.

    `sheet` is the one that holds the orders, where several might; `write_back` asks for verdict,
    remedy and code in the book itself; `pdf` for proof pages beside the pictures.
    """

    orders: tuple[str, ...] = ()
    out: Path | None = None
    workshop: Path | None = None
    sheet: str = ""
    skip_hidden: bool = False
    jobs: int = 0
    write_back: bool = False
    pdf: bool = False


@dataclass(frozen=True, slots=True)
class Job:
    """One row's work as values that any process can take; `draw` asks for the picture."""

    line: Line
    kin: tuple[Line, ...]
    home: Home
    draw: bool


@dataclass(frozen=True, slots=True)
class Done:
    """What a row became, the bytes of its artwork and of its PNG and what is kept of it; empty and
    None without.

    `sha256` is that of the PNG; where there is one and no `picture`, that lies there from the last
    time, and so does the artwork.
    """

    made: Made
    artwork: bytes = b""
    picture: bytes = b""
    record: Record | None = None
    sha256: str = ""


def home_of(book: Path, options: Options) -> Home:
    """The home of a book: the folder that it lies in."""
    return home_in(book.resolve().parent, options)


def home_in(folder: Path, options: Options) -> Home:
    """The folder, and the workshop file that was named, else the one in it."""
    if options.workshop:
        return Home(options.workshop.resolve(), folder)
    beside = folder / "workshop.toml"
    return Home(beside if beside.is_file() else None, folder)


def work(job: Job) -> Done:
    """One row: values in, bytes out, in any process."""
    shop = shop_of(job.home)
    made = make_row(job.line, shop, job.kin)
    if made.artwork is None:
        return Done(made)
    data = encoded(made.artwork)
    if not job.draw:
        return Done(made, data)
    from proofgen.proofs.picture import proof_png

    picture = proof_png(made, shop.workshop)
    return Done(made, data, picture, picture_record(made, data, shop), _sha256(picture))


_open: dict[Home, Shop] = {}


def shop_of(home: Home) -> Shop:
    """The shop of that home, opened once a process."""
    if home not in _open:
        _open[home] = open_shop(home)
    return _open[home]


def shop_for(book: Path, options: Options) -> Shop:
    """The shop that a book belongs to."""
    return shop_of(home_of(book, options))


def lines_of(book: Path, options: Options) -> tuple[tuple[Line, ...], tuple[Flag, ...]]:
    """Every line of the book, and the flags about the book as a whole."""
    from proofgen.orders.read import read_book

    shop = shop_for(book, options)
    lettered = [field for template in shop.templates.values() for field in template.fields]
    with archive(book.resolve().parent) as records:
        # What fed a picture is compared with it even when its design has no such field any more.
        lettered += [each for each in records.columns() if each not in KNOWN]
    fields = tuple(dict.fromkeys(lettered))
    lines, flags = read_book(book, shop.workshop, fields, options.sheet, options.skip_hidden)
    return tuple(understood(line, shop) for line in lines), flags


def wanted(lines: tuple[Line, ...], options: Options, book: Path) -> tuple[Line, ...]:
    """The lines of the orders that were asked for, all where none was; UnusableError for others."""
    exact = {line.order.number for line in lines}
    # A number as it stands means itself alone; else its case does not matter.
    orders = {o.strip() if o.strip() in exact else o.strip().casefold(): o for o in options.orders}
    there = exact | {number.casefold() for number in exact}
    absent = [order for asked, order in orders.items() if asked not in there]
    if absent:
        raise UnusableError(
            f"{book.name}: no row has the order {', '.join(map(repr, absent))}; "
            f"look at column Order."
        )
    return tuple(
        line
        for line in lines
        if not orders
        or line.order.number in orders
        or (line.order.number.casefold() in orders and line.order.number.casefold() not in exact)
    )


def rows_done(
    book: Path,
    every: tuple[Line, ...],
    lines: tuple[Line, ...],
    options: Options,
    progress: Progress,
    pictures: Path | None,
) -> Iterator[Done]:
    """These lines in their order, `every` being all of the book's; drawn where `pictures` is the
    folder that the pictures lie in. A line that is as it was the last time is not done again.
    """
    home = home_of(book, options)
    kin = _kin(every, shop_of(home))
    jobs = [Job(line, kin[line.order.source.row], home, pictures is not None) for line in lines]
    base = _base(home)
    keys = [key_of(job.line, job.kin, base) for job in jobs]
    memory = Memory(cache_folder(), book.resolve())
    known = memory.known({key: job.line for key, job in zip(keys, jobs, strict=True)})
    known = {key: item for key, item in known.items() if _is_there(item, pictures)}
    todo = [job for key, job in zip(keys, jobs, strict=True) if key not in known]
    fresh = _mapped(todo, options.jobs, len(every))
    new: list[tuple[str, Line, Remembered, bytes]] = []
    since = monotonic()
    try:
        for number, (key, line) in enumerate(zip(keys, lines, strict=True), 1):
            if key in known:
                done = Done(known[key].made, sha256=known[key].picture)
            else:
                done = next(fresh)
                new.append((key, line, Remembered(done.made, done.sha256), done.artwork))
            if len(new) == BATCH or number == len(keys) or monotonic() - since > SECONDS:
                memory.keep(new)
                new.clear()
                since = monotonic()
            progress(number, len(keys))
            yield done
    finally:  # where the run is stopped
        memory.keep(new)


def piece_stem(made: Made) -> str:
    """What the names of a piece's files begin with."""
    order = made.order
    return stem(order.field("name"), order.number, order.line, made.code)


def picture_path(made: Made, folder: Path) -> Path:
    """Where the picture of a row lies."""
    return folder / f"{piece_stem(made)}.png"


def _is_there(item: Remembered, pictures: Path | None) -> bool:
    """Whether nothing is to be drawn, or the picture still lies there as it was drawn."""
    if pictures is None or item.made.artwork is None:
        return True
    file = picture_path(item.made, pictures)
    return bool(item.picture) and file.is_file() and _sha256(file.read_bytes()) == item.picture


def _base(home: Home) -> str:
    """A digest of all that shapes a row but the book: code, files, faces, designs, workshop.

    A remedy may name another design, so each row depends on all of them.
    """
    shop = shop_of(home)
    files = [*PACKAGE.rglob("*.py"), *PACKAGE.rglob("*.toml"), *shop.bench.faces.files]
    stats = sorted((str(f), s.st_size, s.st_mtime_ns) for f in files for s in (f.stat(),))
    workshop = home.workshop.read_bytes() if home.workshop else b""
    drawn = [
        (t.id, t.sha256, [symbol.sha256 for symbol in t.symbol_drawings], t.broken_symbols)
        for t in shop.templates.values()
    ]
    return _sha256(f"{stats}{_sha256(workshop)}{sorted(shop.broken)}{drawn}".encode())


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _kin(lines: tuple[Line, ...], shop: Shop) -> dict[int, tuple[Line, ...]]:
    """By row, the other lines of the same order on the same design."""
    sets: dict[tuple[str, str], list[Line]] = {}
    for line in lines:
        template, _ = find(shop.templates, line.order.design)
        design = template.id if template else ""
        sets.setdefault((line.order.number, design), []).append(line)
    return {
        line.order.source.row: tuple(other for other in family if other is not line)
        for family in sets.values()
        for line in family
    }


def _with_thumbnails(job: Job, rows: int) -> Done:
    """The same work; what other files of that many rows show of the picture is kept for them."""
    done = work(job)
    if done.picture:
        from proofgen.results.thumbnail import CARD, CELL, COPIED, COPY, Thumbnails

        kinds = (COPY, CARD, CELL) if rows <= COPIED else (CARD, CELL)
        Thumbnails(cache_folder()).made(done.picture, kinds)
    return done


def _mapped(jobs: list[Job], processes: int, rows: int) -> Iterator[Done]:
    done = partial(_with_thumbnails, rows=rows)
    count = processes or (min(os.cpu_count() or 1, 8) if len(jobs) >= WORTH_A_POOL else 1)
    if count == 1 or len(jobs) < 2:
        yield from map(done, jobs)
        return
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(count, mp_context=_context()) as pool:
        yield from pool.map(done, jobs, chunksize=CHUNK)


def _context() -> BaseContext:
    """How processes start: as copies of this one, which has the shop open already, where that is
    safe; only a process of one thread can be copied (POSIX, fork), and macOS takes that ill.
    """
    from multiprocessing import get_context

    alone = sys.platform == "linux" and len(list(Path("/proc/self/task").iterdir())) == 1
    return get_context("fork" if alone else "spawn")
