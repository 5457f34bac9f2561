"""Proof pictures in bulk: from row to file, against Pillow saving the same finished pictures.

Run with `python tests/bench/pictures.py [ORDERS]`. All ratios are within one run on one core; the
last part starts processes, which takes each of them as long as some thirty rows do. Names are
Faker's, seeded.
"""

from __future__ import annotations

import io
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from faker import Faker
from PIL import Image

DESIGNS = ("boat", "lantern", "plaque", "medallion", "remembrance", "wavename")
FINISHES = ("natural", "walnut", "burgundy")
LEVEL = 6
# Orders in a row, as in a bulk run, then as many pictures saved by Pillow, since a machine that
# gets slower or faster is to do so to both.
BLOCK = 30


def book(path: Path, count: int) -> None:
    """Orders over all designs and finishes, a short text where the design takes one."""
    from openpyxl import Workbook

    faker = Faker()
    Faker.seed(2027)
    workbook = Workbook()
    workbook.active.append(["Order", "Name", "Year", "Design", "Finish", "Inscription", "Symbol"])
    for number in range(count):
        design = DESIGNS[number % 6]
        finish = FINISHES[number // 6 % 3]
        text = faker.city()[:14] if design in ("plaque", "medallion", "remembrance") else None
        symbol = "star" if design in ("medallion", "remembrance") else None
        name, year = faker.first_name(), None if design == "remembrance" else 2027
        workbook.active.append([f"B{number}", name, year, design, finish, text, symbol])
    workbook.save(path)
    everywhere = 'format = 1\n[finishes.natural]\ndesigns = ["wavename"]\n'
    path.with_name("workshop.toml").write_text(everywhere, encoding="utf-8")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    with tempfile.TemporaryDirectory() as folder:
        os.environ["PROOFGEN_CACHE"] = str(Path(folder) / "cache")
        measure(Path(folder), count)


def measure(folder: Path, count: int) -> None:
    from proofgen.artwork.compose import _fitted
    from proofgen.day.rows import Job, Options, home_of, lines_of, work
    from proofgen.proofs.shelf import shelved

    path = folder / "orders.xlsx"
    book(path, count)
    lines, _ = lines_of(path, Options())
    jobs = [Job(line, (), home_of(path, Options()), True) for line in lines]
    checks = [Job(job.line, (), job.home, False) for job in jobs]
    for job in checks:
        work(job)  # letters are measured once ever
    first: list[float] = []
    for job in jobs:
        known = shelved.cache_info().misses
        start = time.perf_counter()
        done = work(job)
        if shelved.cache_info().misses > known:
            first.append(time.perf_counter() - start)
    taken: dict[str, list[float]] = {design: [] for design in DESIGNS}
    judged: dict[str, list[float]] = {design: [] for design in DESIGNS}
    pillow: list[float] = []
    sizes: list[int] = []
    _fitted.cache_clear()  # no row is to know that it was done before
    for number, check in enumerate(checks):
        start = time.perf_counter()
        work(check)
        judged[DESIGNS[number % 6]].append(time.perf_counter() - start)
    _fitted.cache_clear()
    for first_one in range(0, count, BLOCK):
        drawn: list[bytes] = []
        for number, job in enumerate(jobs[first_one : first_one + BLOCK], first_one):
            start = time.perf_counter()
            done = work(job)
            (folder / f"{number}.png").write_bytes(done.picture)
            taken[DESIGNS[number % 6]].append(time.perf_counter() - start)
            if done.picture:
                drawn.append(done.picture)
            else:
                print("no picture:", done.made.order.number, [f.kind.id for f in done.made.flags])
        for picture in drawn:
            sizes.append(len(picture))
            with Image.open(io.BytesIO(picture)) as image:
                image.load()
                start = time.perf_counter()
                image.save(io.BytesIO(), "PNG", compress_level=LEVEL)
                pillow.append(time.perf_counter() - start)
    for design in DESIGNS:
        every, row = statistics.mean(taken[design]), statistics.mean(judged[design])
        print(f"{design:12s} {every * 1e3:6.1f} ms an order, of which the row {row * 1e3:.1f}")
    mean = statistics.mean(t for each in taken.values() for t in each)
    saving = statistics.mean(pillow)
    largest, worst = max(sizes), max(first) / mean
    print(
        f"{len(sizes)} pictures: {mean * 1e3:.1f} ms an order, saving by Pillow {saving * 1e3:.1f}"
    )
    print(f"ratio {mean / saving:.2f} (most 0.7)")
    print(f"KB: mean {statistics.mean(sizes) / 1e3:.0f} (350), largest {largest / 1e3:.0f} (500)")
    print(
        f"{len(first)} stills: mean {statistics.mean(first):.2f} s, worst {worst:.0f} x (most 40)"
    )
    one, two = (together(path, processes) for processes in (1, 2))
    print(
        f"with thumbnails, workbook and page {one / count * 1e3:.0f} ms an order; "
        f"two processes: {one / two:.2f} times one (least 1.8)"
    )


def together(path: Path, processes: int) -> float:
    """How long the command takes in so many processes, its own start and that of others included;
    all rows are done anew, and their small pictures.
    """
    for kept in ("pieces.sqlite", "thumbnails.sqlite"):
        (Path(os.environ["PROOFGEN_CACHE"]) / kept).unlink(missing_ok=True)
    call = "import sys; from proofgen.cli.program import main; sys.exit(main())"
    out = path.parent / f"proofs-{processes}"
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", call, "proof", path, "--out", out, "--jobs", str(processes)],
        stdout=subprocess.DEVNULL,
        check=False,  # rows that stop make it end with 1
    )
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
