"""What the records weigh at 20,000 pictures, and what a run costs where one row of many changed.

    python tests/bench/records.py [--pictures N] [--rows N]

The pictures' artwork is that of real names on all designs; each is made different from all others,
so that none is kept once for several.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from books import write_book
from names import us_names

from proofgen.day import pipeline
from proofgen.day.shop import make_row, open_shop, picture_record
from proofgen.orders.order import Line, Order, Source
from proofgen.records.archive import FILE, archive, digest
from proofgen.records.codec import encoded

BATCH = 500


def quiet(*_: int) -> None:
    pass


def weigh(folder: Path, count: int) -> None:
    shop = open_shop()
    names = [name for name, _ in us_names()[:20]]
    made = []
    for design in shop.templates:
        for name in names:
            fields = (("name", name), ("year", "2027"))
            row = make_row(Line(Order("1", 1, Source("", "", 1), design, fields)), shop)
            assert row.artwork is not None
            data = encoded(row.artwork)
            made.append((picture_record(row, data, shop), data))
    with archive(folder) as kept:
        for start in range(0, count, BATCH):
            batch = []
            for i in range(start, min(start + BATCH, count)):
                record, data = made[i % len(made)]
                own = data.replace(b'"title":"', f'"title":"{i} '.encode(), 1)
                batch.append((replace(record, number=f"LH-{i}", artwork=digest(own)), own))
            kept.add(batch)
        start_time = time.perf_counter()
        kept.pictures(f"LH-{count // 2}")
        found = time.perf_counter() - start_time
    size = (folder / FILE).stat().st_size
    print(f"{count} pictures: {size / 1e6:.0f} MB, {size / count / 1024:.1f} kB each; one order's")
    print(f"pictures are found in {found * 1000:.1f} ms")


def incremental(folder: Path, count: int) -> None:
    os.environ["PROOFGEN_CACHE"] = str(folder / "cache")
    rows = [
        {"order": f"LH-{i}", "name": name, "year": 2027, "design": "boat"}
        for i, (name, _) in enumerate(us_names()[:count])
    ]
    book = write_book(folder / "orders.xlsx", rows)
    times = []
    for turn in range(3):
        if turn == 2:
            write_book(book, [{**rows[0], "name": "Wendeline"}, *rows[1:]])
        start = time.perf_counter()
        pipeline.proof(book, pipeline.Options(jobs=1), quiet)
        times.append(time.perf_counter() - start)
    full, nothing, one = times
    print(
        f"{count} rows: full run {full:.1f} s, again {nothing / full:.3f} of it, "
        f"with one row changed {one / full:.3f}"
    )


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--pictures", type=int, default=20_000)
    options.add_argument("--rows", type=int, default=1_000)
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        weigh(Path(folder), chosen.pictures)
    with tempfile.TemporaryDirectory() as folder:
        incremental(Path(folder), chosen.rows)


if __name__ == "__main__":
    main()
