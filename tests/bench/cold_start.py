"""`proofgen check` on a book of one row from a cold process, against importing four libraries.

Run with `python tests/bench/cold_start.py`. The ratio is of medians within one run.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from openpyxl import Workbook

ROUNDS = 7
CHECK = "from proofgen.cli.program import main; import sys; sys.exit(main())"
IMPORTS = "import numpy, shapely, uharfbuzz, openpyxl"


def seconds(call: list[str], cache: Path) -> float:
    """How long one process takes, from its start to its end."""
    environment = {**os.environ, "PROOFGEN_CACHE": str(cache)}
    # Installed packages come with their bytecode; ours in a checkout must be let write its own.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    start = time.perf_counter()
    subprocess.run(call, check=True, stdout=subprocess.DEVNULL, env=environment)
    return time.perf_counter() - start


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        book, cache = Path(folder) / "orders.xlsx", Path(folder) / "cache"
        workbook = Workbook()
        workbook.active.append(["Order", "Name", "Year", "Design"])
        workbook.active.append(["1", "Wilhelmina", 2027, "lantern"])
        workbook.save(book)
        check = [sys.executable, "-c", CHECK, "check", str(book)]
        seconds(check, cache)
        without = statistics.median(seconds(check, Path(folder) / f"{i}") for i in range(3))
        ours, theirs = [], []
        for _ in range(ROUNDS):
            ours.append(seconds(check, cache))
            theirs.append(seconds([sys.executable, "-c", IMPORTS], cache))
    ratio = statistics.median(ours) / statistics.median(theirs)
    print(f"check {statistics.median(ours):.3f} s, imports {statistics.median(theirs):.3f} s")
    print(f"ratio {ratio:.2f} (most 2.5); without the glyph cache {without:.2f} s")


if __name__ == "__main__":
    main()
