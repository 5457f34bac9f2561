"""How many names reach the wanted and the least cap height, design by design.

    python tests/bench/sweep.py [--common N] [--sample N] [--faker N] [--jobs N] [--design ID ...]

US names are weighted by births and not; Faker's are first names and whole ones, so many of each of
its Latin-script locales; the phrases are of the kind that people order. The name is judged as a
row's is, after the design has grown for it. Where it needs a remedy, each that the row names is
carried out, and has to give a piece at the cap height that it promises.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from judged import Judged, judged, shop
from names import faker_names, latin_locales, us_names

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
CHUNK = 200
# So many names that have no remedy are listed.
LISTED = 20


def of_chunk(task: tuple[str, tuple[str, ...]]) -> list[Judged]:
    design, names = task
    found = [judged((design, name)) for name in names]
    shop().bench.cache.save()
    return found


def tasks(design: str, names: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for start in range(0, len(names), CHUNK):
        yield design, names[start : start + CHUNK]


def swept(design: str, names: tuple[str, ...], pool: ProcessPoolExecutor) -> list[Judged]:
    found: list[Judged] = []
    for part in pool.map(of_chunk, tasks(design, names)):
        found += part
        print(f"\r{design}: {len(found)} of {len(names)} names ", end="", file=sys.stderr)
    print(file=sys.stderr)
    return found


def report(title: str, found: Sequence[Judged], weights: Sequence[int] | None = None) -> None:
    counts: Counter[str] = Counter()
    for one, weight in zip(found, weights or [1] * len(found), strict=True):
        counts[one.outcome] += weight
    total = sum(counts.values())
    print(
        f"{title:36} wanted {counts['wanted'] / total:9.4%}"
        f"  least {(total - counts['remedy']) / total:9.4%}"
        f"  needs a remedy {counts['remedy'] / total:9.4%}"
    )


def report_remedies(title: str, found: Sequence[Judged]) -> None:
    needy = [one for one in found if one.outcome == "remedy"]
    helpless = [one for one in needy if one.helpless]
    named, true = sum(one.named for one in needy), sum(one.true for one in needy)
    print(
        f"{title:36} {len(needy)} of {len(found)} need a remedy,"
        f" {len(needy) - len(helpless)} have one that passes;"
        f" {true} of {named} remedies pass",
        flush=True,
    )
    for one in helpless[:LISTED]:
        print(f"    no remedy: {one.text!r}: {one.why}", flush=True)


def sweep_us(design: str, table: tuple[tuple[str, int], ...], pool: ProcessPoolExecutor) -> None:
    found = swept(design, tuple(name for name, _ in table), pool)
    report(f"{design}, US by births", found, [births for _, births in table])
    report(f"{design}, US unweighted", found)
    report_remedies(f"{design}, US", found)


def sweep_faker(design: str, count: int, pool: ProcessPoolExecutor) -> None:
    for what in ("first_name", "name"):
        title = f"{design}, Faker {what}"
        names = {locale: faker_names(locale, count, what) for locale in latin_locales()}
        found = swept(design, tuple(dict.fromkeys(n for own in names.values() for n in own)), pool)
        known = {one.text: one for one in found}
        report(title, [known[name] for own in names.values() for name in own])
        report_remedies(title + ", distinct", found)
        share = {x: sum(known[n].outcome == "remedy" for n in own) for x, own in names.items()}
        worst = sorted((x for x in share if share[x]), key=lambda x: -share[x])
        if worst:
            print("    in need:", ", ".join(f"{x} {share[x] / count:.1%}" for x in worst))


def chosen_names(common: int, sample: int) -> tuple[tuple[str, int], ...]:
    """The commonest names, and so many of the others at even steps of rank; all by default."""
    table = us_names()
    rest = table[common:] if common or sample else ()
    head = table[:common] if common or sample else table
    steps = min(sample, len(rest))
    return (*head, *(rest[i * len(rest) // steps] for i in range(steps)))


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--common", type=int, default=0, help="the N commonest US names")
    options.add_argument("--sample", type=int, default=0, help="N of the others, at even steps")
    options.add_argument("--faker", type=int, default=0, help="N names a locale, and no US names")
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--design", action="append", choices=tuple(shop().templates))
    chosen = options.parse_args()
    table = chosen_names(chosen.common, chosen.sample)
    if chosen.faker:
        print(f"{chosen.faker} names each of {', '.join(latin_locales())}", flush=True)
    else:
        print(f"{len(table)} names, {sum(births for _, births in table)} births", flush=True)
    with ProcessPoolExecutor(chosen.jobs, mp_context=get_context("spawn")) as pool:
        for design in chosen.design or shop().templates:
            if chosen.faker:
                sweep_faker(design, chosen.faker, pool)
                continue
            sweep_us(design, table, pool)
            phrases = list(pool.map(judged, ((design, text) for text in PHRASES)))
            report_remedies(f"{design}, phrases", phrases)


if __name__ == "__main__":
    main()
