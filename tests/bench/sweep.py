"""How many names reach the wanted and the least cap height, design by design.

    python tests/bench/sweep.py [--common N] [--sample N] [--faker N] [--draw N] [--seconds N]
                                [--jobs N] [--design ID ...]

US names are weighted by births and not; Faker's are first names and whole ones, so many of each of
its Latin-script locales; the phrases are of the kind that people order. The name is judged as a
row's is, after the design has grown for it. Where it needs a remedy, each that the row names is
carried out, and has to give a piece at the cap height that it promises.

`--draw` draws so many names from all US names, each as likely as its births are many, and bounds
the share of births that fit without a remedy from below (Clopper and Pearson, Biometrika 26, 1934).
With `--seconds` a design's draws end after so long, whatever they have shown.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
import time
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
SEED = 1880
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


def drawn_names(draws: int) -> list[str]:
    """Names drawn by births, the same ones every time."""
    table = us_names()
    weights = [births for _, births in table]
    return random.Random(SEED).choices([name for name, _ in table], weights, k=draws)


def at_least(fit: int, draws: int, doubt: float = 0.05) -> float:
    """The exact 95 % lower bound of a share, of which `fit` in so many draws were seen.

    It is the share at which so many or more are seen with a chance of `doubt`; found by halving.
    """
    low, high = 0.0, fit / draws
    for _ in range(60):
        middle = (low + high) / 2
        seen = sum(_chance(count, draws, middle) for count in range(fit, draws + 1))
        low, high = (middle, high) if seen < doubt else (low, middle)
    return low


def _chance(count: int, draws: int, share: float) -> float:
    """That just so many of the draws fit."""
    if not 0 < share < 1:
        return float(count == draws * share)
    ways = math.lgamma(draws + 1) - math.lgamma(count + 1) - math.lgamma(draws - count + 1)
    return math.exp(ways + count * math.log(share) + (draws - count) * math.log1p(-share))


def draw_us(design: str, draws: int, seconds: float, pool: ProcessPoolExecutor) -> None:
    """Chunks of draws in their order; a name that comes again is not made again."""
    names = drawn_names(draws)
    until = time.monotonic() + seconds
    known: dict[str, Judged] = {}
    made = 0
    while made < draws and time.monotonic() < until:
        part = names[made : made + CHUNK]
        new = tuple(name for name in dict.fromkeys(part) if name not in known)
        halves = [(design, new[start::2]) for start in range(2)]
        known |= {one.text: one for own in pool.map(of_chunk, halves) for one in own}
        made += len(part)
    fit = sum(known[name].outcome != "remedy" for name in names[:made])
    print(
        f"{design:12} {made} names drawn by births, {len(known)} distinct; {fit / made:.4%} fit"
        f" without remedy, at least {at_least(fit, made):.4%} of all births with 95 % confidence"
    )
    report_remedies(f"{design}, drawn", list(known.values()))


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
    options.add_argument("--draw", type=int, default=0, help="N US names by births, not all")
    options.add_argument("--seconds", type=float, default=math.inf, help="a design's draws end")
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--design", action="append", choices=tuple(shop().templates))
    chosen = options.parse_args()
    table = chosen_names(chosen.common, chosen.sample)
    if chosen.faker:
        print(f"{chosen.faker} names each of {', '.join(latin_locales())}", flush=True)
    elif not chosen.draw:
        print(f"{len(table)} names, {sum(births for _, births in table)} births", flush=True)
    with ProcessPoolExecutor(chosen.jobs, mp_context=get_context("spawn")) as pool:
        for design in chosen.design or shop().templates:
            if chosen.draw:
                draw_us(design, chosen.draw, chosen.seconds, pool)
                continue
            if chosen.faker:
                sweep_faker(design, chosen.faker, pool)
                continue
            sweep_us(design, table, pool)
            phrases = list(pool.map(judged, ((design, text) for text in PHRASES)))
            report_remedies(f"{design}, phrases", phrases)


if __name__ == "__main__":
    main()
