"""Fitting 5,000 names into one slot against a plain loop that bisects a Pillow font size.

Run with `python tests/bench/fit_speed.py`; one core, ratios within one run. The fit includes
strokes and gaps from cached glyphs and pairs; welding and placing the outline is timed apart.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from PIL import ImageFont

sys.path.insert(0, str(Path(__file__).parents[1]))

from names import us_names

from proofgen.artwork.rules import lettering_rules
from proofgen.designs.design import Slot
from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import Choice, choose
from proofgen.lettering.fit import place
from proofgen.resources import folder
from proofgen.workshop.read import load

NAMES = 5000
ROUNDS = 3
WIDTH, HEIGHT = 66.0, 24.0
PIXELS_A_MM = 20


def slot() -> Slot:
    workshop = load(None)
    return Slot(
        field="name",
        layer="front",
        zone=((0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT)),
        faces=("vollkorn", "roboto-flex"),
        faces_asked=(),
        cap_height=workshop.cap_height("name"),
        narrow=0.5,
        lines=1,
        lines_asked=1,
        leading=1.25,
        align="centre",
        anchor=WIDTH / 2,
        baseline=None,
        case="as-typed",
        made="engrave",
    )


def pillow_loop(file: Path, names: list[str]) -> None:
    """Whole pixels from 8 to 400, the font loaded anew for every size, bounding box only."""
    width, height = WIDTH * PIXELS_A_MM, HEIGHT * PIXELS_A_MM
    for name in names:
        low, high = 8, 400
        while low < high:
            middle = (low + high + 1) // 2
            box = ImageFont.truetype(str(file), middle).getbbox(name)
            fits = box[2] - box[0] <= width and box[3] - box[1] <= height
            low, high = (middle, high) if fits else (low, middle - 1)


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    names = [name for name, _ in us_names()[:NAMES]]
    workshop = load(None)
    rules = lettering_rules("engrave", workshop.materials[0], workshop)
    box = slot()
    file = folder("fonts") / "Vollkorn-wght.ttf"
    with tempfile.TemporaryDirectory() as cache:
        bench = Bench(Faces(folder("fonts")), MeasureCache(Path(cache)))
        cold = seconds(lambda: [choose(name, box, rules, bench) for name in names])
        choices: list[Choice] = [c for n in names if (c := choose(n, box, rules, bench))]
        ours = [
            seconds(lambda: [choose(name, box, rules, bench) for name in names])
            for _ in range(ROUNDS)
        ]
        placing = seconds(lambda: [place(choice, box) for choice in choices])
    pillow = [seconds(lambda: pillow_loop(file, names)) for _ in range(ROUNDS)]
    fit, plain = statistics.median(ours), statistics.median(pillow)
    print(f"{len(names)} names: fit {fit:.3f} s, plain loop {plain:.3f} s")
    print(f"the fit is {plain / fit:.1f} times faster (least 5, aim 20)")
    print(f"first run with empty cache {cold:.1f} s; welding and placing {placing:.3f} s")


if __name__ == "__main__":
    main()
