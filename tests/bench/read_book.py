"""Reading 1,000 and 100,000 rows: time against openpyxl alone, and memory above the idle process.

    python tests/bench/read_book.py [--rows N ...]

Each is measured in a process of its own; openpyxl reads the same book row by row, read-only.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import xlsxwriter

HEADERS = ("Order", "Name", "Year", "Design", "Inscription", "Finish", "Buyer", "Due", "Quantity")
OURS = """
from proofgen.orders.read import read_book
from proofgen.workshop.read import load
shop = load(None)
def read(path):
    return len(read_book(path, shop)[0])
"""
OPENPYXL = """
import openpyxl
def read(path):
    sheet = openpyxl.load_workbook(path, read_only=True).worksheets[0]
    return sum(1 for row in sheet.iter_rows(values_only=True)) - 1
"""
MEASURE = """
import resource, sys, time
from pathlib import Path
peak = lambda: resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
read(Path(sys.argv[2]))  # imports and the like
idle = peak()
start = time.perf_counter()
count = read(Path(sys.argv[1]))
print(time.perf_counter() - start, (peak() - idle) / 1024, count)
"""


def book(path: Path, rows: int) -> Path:
    with xlsxwriter.Workbook(path, {"constant_memory": True}) as made:
        sheet = made.add_worksheet("Orders")
        sheet.write_row(0, 0, HEADERS)
        for i in range(rows):
            cells = (f"LH-{i}", f"Wendeline {i % 977}", 2027, "boat", "With love", "walnut")
            sheet.write_row(i + 1, 0, (*cells, f"M. Tarrow {i % 501}", "2027-06-12", 1))
    return path


def measured(reader: str, path: Path, small: Path) -> tuple[float, float]:
    told = subprocess.run(
        [sys.executable, "-c", reader + MEASURE, str(path), str(small)],
        capture_output=True,
        check=True,
        text=True,
    )
    seconds, megabytes, _ = told.stdout.split()
    return float(seconds), float(megabytes)


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--rows", type=int, nargs="*", default=[1_000, 100_000])
    with tempfile.TemporaryDirectory() as folder:
        small = book(Path(folder) / "small.xlsx", 10)
        for rows in options.parse_args().rows:
            path = book(Path(folder) / f"{rows}.xlsx", rows)
            ours, theirs = (measured(reader, path, small) for reader in (OURS, OPENPYXL))
            print(
                f"{rows:7} rows: {ours[0] / theirs[0]:.2f} of openpyxl's time "
                f"({ours[0]:.2f} s), {ours[1]:.0f} MB above idle ({theirs[1]:.0f} openpyxl)"
            )


if __name__ == "__main__":
    start = time.perf_counter()
    main()
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"{time.perf_counter() - start:.0f} s, most of a child {peak:.0f} MB")
