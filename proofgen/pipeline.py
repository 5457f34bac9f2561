"""Where the stages are joined, for one row and for many."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from proofgen.artwork.artwork import Artwork, Made
from proofgen.designs.resolve import find
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.filenames import stem
from proofgen.orders.order import Line
from proofgen.shop import Home, Shop, approved, make_row, open_bench, open_design, open_shop
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

Progress = Callable[[int, int], None]

# A second process pays for its start from about this many rows.
WORTH_A_POOL = 40


@dataclass(frozen=True, slots=True)
class Options:
    """What every command takes. `jobs` is the number of processes, 0 for what suits."""

    orders: tuple[str, ...] = ()
    out: Path | None = None
    workshop: Path | None = None
    jobs: int = 0


@dataclass(frozen=True, slots=True)
class Run:
    """What a command did: rows in the book's order, flags about the whole book, files by row."""

    rows: tuple[Made, ...]
    flags: tuple[Flag, ...] = ()
    pictures: Mapping[int, Path] = field(default_factory=dict)
    production: Mapping[int, tuple[Path, ...]] = field(default_factory=dict)
    results: Path | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One row's work as values that any process can take; `draw` asks for the picture."""

    line: Line
    kin: tuple[Line, ...]
    home: Home
    draw: bool


@dataclass(frozen=True, slots=True)
class Done:
    """What a row became, and the bytes of its PNG, empty where there is none."""

    made: Made
    picture: bytes


def check(book: Path, options: Options, progress: Progress) -> Run:
    """Judge every row."""
    flags, done = _rows(book, options, progress, draw=False)
    return Run(tuple(item.made for item in done), flags)


def proof(book: Path, options: Options, progress: Progress) -> Run:
    """Judge every row, write a picture for each that has artwork, and the results workbook.

    A results workbook that is there already stays as it is where only some orders were asked for.
    """
    from proofgen.results.workbook import check_free, write_results

    out = options.out or book.parent / "proofs"
    results: Path | None = book.resolve().with_name(f"{book.stem}-results.xlsx")
    if options.orders and results and results.exists():
        results = None
    if results:
        check_free(results)
    flags, done = _rows(book, options, progress, draw=True)
    rows: list[Made] = []
    pictures: dict[int, Path] = {}
    for item in done:
        rows.append(item.made)
        if item.picture:
            order = item.made.order
            pictures[order.source.row] = out.resolve() / f"{stem(order)}.png"
            write_bytes(pictures[order.source.row], item.picture)
    if results:
        write_results(results, rows, pictures)
    return Run(tuple(rows), flags, pictures, results=results)


def make(book: Path, options: Options, progress: Progress, everything: bool) -> Run:
    """Write the production files of approved rows, or of all that do not stop."""
    flags, done = _rows(book, options, progress, draw=False)
    shop = _shop(_home(book, options))
    out = (options.out or book.parent / "production").resolve()
    rows: list[Made] = []
    production: dict[int, tuple[Path, ...]] = {}
    for made in (item.made for item in done):
        if made.artwork is None or made.verdict == "stop":
            rows.append(made)
        elif everything or approved(made):
            rows.append(made)
            paths = _write_layers(made, made.artwork, out, shop.workshop)
            production[made.order.source.row] = paths
        else:
            waiting = Flag(kinds.NOT_APPROVED, made.order.where("approved"))
            rows.append(replace(made, flags=(*made.flags, waiting)))
    return Run(tuple(rows), flags, production=production)


def _write_layers(made: Made, artwork: Artwork, out: Path, workshop: Workshop) -> tuple[Path, ...]:
    """One drawing a layer; all are drawn before the first is written."""
    from proofgen.production.svg import layer_svg

    drawings: dict[Path, str] = {}
    for layer in artwork.layers:
        for side in dict.fromkeys(("front", *(mark.side for mark in layer.marks))):
            name = f"{stem(made.order)}-{layer.name}{'-back' if side == 'back' else ''}.svg"
            drawings[out / name] = layer_svg(artwork, layer, made.code, workshop, side)
    for path, drawing in drawings.items():
        write_bytes(path, drawing.encode("utf-8"))
    return tuple(drawings)


def designs(options: Options) -> Shop:
    """The designs there are, with those of the folder that the program is called in."""
    return _shop(_home(Path("orders.xlsx"), options))


def check_design(
    folder: Path, texts: Mapping[str, str], picture: Path | None, options: Options
) -> tuple[Flag, ...]:
    """What is wrong with a design folder; the picture of a sample, where it is asked for.

    The folder of the maker's own symbols and faces is the one that its folder of designs is in.
    """
    from proofgen.checks.check import check_template, unreadable

    folder = folder.resolve()
    if not folder.is_dir():
        raise UnusableError(f"{folder}: there is no such folder.")
    home = _home(folder.parents[1] / "orders.xlsx", options)
    workshop, bench = load(home.workshop), open_bench(home)
    try:
        template = open_design(folder, home, workshop, bench)
    except UnusableError as error:
        faults = (line.removeprefix(f"{folder}/") for line in str(error).splitlines())
        return tuple(unreadable(fault) for fault in faults)
    unknown = [field for field in texts if field not in template.fields]
    if unknown:
        raise UnusableError(
            f"--text {unknown[0]}=…: the design letters {', '.join(template.fields)}."
        )
    made, flags = check_template(template, texts, workshop, bench)
    if picture and made.artwork:
        from proofgen.proofs.picture import proof_png

        write_bytes(picture, proof_png(made, workshop))
    return flags


def work(job: Job) -> Done:
    """One row: values in, bytes out, in any process."""
    shop = _shop(job.home)
    made = make_row(job.line, shop, job.kin)
    if not job.draw or made.artwork is None:
        return Done(made, b"")
    from proofgen.proofs.picture import proof_png

    return Done(made, proof_png(made, shop.workshop))


_open: dict[Home, Shop] = {}


def _shop(home: Home) -> Shop:
    """The shop of that home, opened once a process."""
    if home not in _open:
        _open[home] = open_shop(home)
    return _open[home]


def _rows(
    book: Path, options: Options, progress: Progress, draw: bool
) -> tuple[tuple[Flag, ...], Iterator[Done]]:
    from proofgen.orders.read import read_book

    home = _home(book, options)
    shop = _shop(home)
    fields = tuple(dict.fromkeys(f for t in shop.templates.values() for f in t.fields))
    lines, flags = read_book(book, shop.workshop, fields)
    kin = _kin(lines, shop)
    lines = _wanted(lines, options.orders, book)
    jobs = [Job(line, kin[line.order.source.row], home, draw) for line in lines]
    return flags, _counted(_mapped(jobs, options.jobs), len(jobs), progress)


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


def _wanted(lines: tuple[Line, ...], orders: tuple[str, ...], book: Path) -> tuple[Line, ...]:
    if not orders:
        return lines
    absent = [number for number in orders if all(line.order.number != number for line in lines)]
    if absent:
        raise UnusableError(
            f"{book.name}: no row has the order {absent[0]!r}; look at column Order."
        )
    return tuple(line for line in lines if line.order.number in orders)


def _mapped(jobs: list[Job], processes: int) -> Iterator[Done]:
    count = processes or (min(os.cpu_count() or 1, 8) if len(jobs) >= WORTH_A_POOL else 1)
    if count == 1 or len(jobs) < 2:
        yield from map(work, jobs)
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    with ProcessPoolExecutor(count, mp_context=get_context("spawn")) as pool:
        yield from pool.map(work, jobs, chunksize=4)


def _counted(done: Iterable[Done], total: int, progress: Progress) -> Iterator[Done]:
    for number, item in enumerate(done, 1):
        yield item
        progress(number, total)


def _home(book: Path, options: Options) -> Home:
    """The book's folder, and the workshop file that was named, else the one in that folder."""
    folder = book.resolve().parent
    if options.workshop:
        return Home(options.workshop.resolve(), folder)
    beside = folder / "workshop.toml"
    return Home(beside if beside.is_file() else None, folder)
