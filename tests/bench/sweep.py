"""How many names reach the wanted and the least cap height, design by design.

    python tests/bench/sweep.py [--sample N] [--jobs N]

US names are weighted by births and not; the phrases are of the kind that people order. Every
phrase that needs a remedy is checked for one that was computed and passes.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from names import us_names

from proofgen.artwork.compose import rules_for
from proofgen.designs.resolve import resolve
from proofgen.lettering.fit import fit
from proofgen.orders.order import Line, Order, Source
from proofgen.shop import Shop, make_row, open_shop

PHRASES = (
    "Grandma & Grandpa",
    "The Oyelaran Family",
    "Mr & Mrs Ashcombe",
    "Bartholomew & Guinevere",
    "Wilhelmina & Maximilian",
    "Dr. Wilhelmina Castlebrook",
    "Captain Thaddeus Merriweather",
    "Great-Grandmother Philippa",
    "Aunt Josephine",
    "Baby's First Regatta",
    "Mary-Katherine",
    "Anne-Sophie & Jean-Baptiste",
    "The Featherstonehaugh-Winterbournes",
    "Biscuit the Harbour Cat",
    "Sir Barksalot",
    "Pip",
    "Mum",
    "Nana & Pop",
    "Ms. O'Callaghan-Fitzwilliam",
    "Lieutenant Commander Ebenezer Hawthorne",
)
CHUNK = 500
Outcome = str


@lru_cache(maxsize=1)
def shop() -> Shop:
    return open_shop(None)


def outcome(design: str, name: str) -> Outcome:
    """wanted, least or remedy: how the name slot of the design takes that name."""
    template = shop().templates[design]
    order = Order("1", 1, Source("", "", 1), design, (("name", name),))
    resolved, _ = resolve(template, order, shop().workshop)
    assert resolved is not None
    slot = next(slot for slot in resolved.slots if slot.field == "name")
    rules = rules_for(slot, resolved, shop().workshop)
    lettering, _ = fit(name, slot, rules, shop().bench, "row 1")
    if lettering is None:
        return "remedy"
    return "wanted" if lettering.cap_height >= slot.cap_height.wanted - 0.005 else "least"


def outcomes(task: tuple[str, tuple[str, ...]]) -> list[Outcome]:
    design, names = task
    found = [outcome(design, name) for name in names]
    shop().bench.cache.save()
    return found


def tasks(design: str, names: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for start in range(0, len(names), CHUNK):
        yield design, names[start : start + CHUNK]


def report(design: str, found: list[Outcome], births: list[int]) -> None:
    plain, weighted = Counter(found), Counter[str]()
    for result, count in zip(found, births, strict=True):
        weighted[result] += count
    for title, counts in (("by births", weighted), ("unweighted", plain)):
        total = sum(counts.values())
        wanted = counts["wanted"] / total
        least = wanted + counts["least"] / total
        print(
            f"{design:12} {title:10} wanted {wanted:9.4%}  least {least:9.4%}"
            f"  needs a remedy {counts['remedy'] / total:9.4%}"
        )


def phrases(design: str) -> None:
    found = Counter(outcome(design, phrase) for phrase in PHRASES)
    helped = stopped = 0
    for phrase in PHRASES:
        order = Order("1", 1, Source("", "", 1), design, (("name", phrase), ("year", "2027")))
        made = make_row(Line(order), shop())
        failed = [flag for flag in made.flags if flag.kind.severity == "stop"]
        stopped += bool(failed)
        helped += bool(failed) and all("would reach" in flag.remedy for flag in failed)
    print(
        f"{design:12} {len(PHRASES)} phrases: wanted {found['wanted']}, least {found['least']},"
        f" need a remedy {stopped}, of which have one that passes {helped}"
    )


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--sample", type=int, default=0, help="only the N commonest names")
    options.add_argument("--jobs", type=int, default=2)
    chosen = options.parse_args()
    table = us_names()[: chosen.sample or None]
    names, births = tuple(n for n, _ in table), [count for _, count in table]
    print(f"{len(names)} names, {sum(births)} births")
    with ProcessPoolExecutor(chosen.jobs, mp_context=get_context("spawn")) as pool:
        for design in shop().templates:
            found = [r for part in pool.map(outcomes, tasks(design, names)) for r in part]
            report(design, found, births)
            phrases(design)


if __name__ == "__main__":
    main()
