"""1,000 names in each joined script on a bar: parts, bridges and backings, measured independently.

Run with `python tests/bench/standing.py [how many]`. No timings are compared; those printed are
milliseconds a name, and do not include the checks.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from standing_names import BOLDER, WIDTH, bar_under, faults, filled, lettered, sampled

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.backing import backing
from proofgen.geometry.holding import held_on
from proofgen.geometry.weld import grown
from proofgen.lettering.bench import Bench
from proofgen.resources import folder

LONGEST, GROW, NECK = 12.0, 4.0, 2.0


def one(bench: Bench, face: str, name: str, top: float, spent: Counter[str]) -> tuple[int, str]:
    """How many bridges a name takes, and what is wrong with it."""
    start = time.perf_counter()
    outline = grown(lettered(bench, face, name), BOLDER[face])
    lettering = time.perf_counter()
    base = bar_under(outline, top)
    made = held_on(base, outline, WIDTH, LONGEST)
    joining = time.perf_counter()
    back = filled(backing(made.path, GROW, NECK))
    spent.update(letter=lettering - start, join=joining - lettering)
    spent.update(back=time.perf_counter() - joining)
    wrong = [*faults(made.path, outline, base, made.bridges), *("loose" for _ in made.loose)]
    if back.geom_type != "Polygon" or back.interiors or back.buffer(0.03 - NECK / 2).is_empty:
        wrong.append("its backing is not one part")
    return len(made.bridges), "; ".join(wrong)


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    with tempfile.TemporaryDirectory() as cache:
        bench = Bench(Faces(folder("fonts")), MeasureCache(Path(cache)))
        for face in BOLDER:
            for top in (-0.8, 2.0):
                spent: Counter[str] = Counter()
                names = sampled(count)
                found = {name: one(bench, face, name, top, spent) for name in names}
                wrong = {name: text for name, (_, text) in found.items() if text}
                each = {key: f"{1000 * s / count:.1f} ms" for key, s in spent.items()}
                whole = sum(not bridges for bridges, _ in found.values())
                print(
                    f"{face}, bar at {top:g} mm: {len(wrong)} of {count} wrong, {whole} unbridged,"
                )
                print(f"  {sum(b for b, _ in found.values())} bridges; {each}")
                for name, text in list(wrong.items())[:10]:
                    print(f"  {name}: {text}")


if __name__ == "__main__":
    main()
