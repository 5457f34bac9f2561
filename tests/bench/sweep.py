"""How many names reach the wanted and the least cap height, design by design.

    python tests/bench/sweep.py [--sample N] [--jobs N] [--design ID ...] [--faker N]

US names are weighted by births and not; the phrases are of the kind that people order. The name
is judged as a row's is, after the design has grown for it. Where a phrase needs a remedy, each
that is named is carried out, and has to give a piece at the cap height that it promises. With
--faker, N first names are drawn from each of Faker's locales in Latin script, and every one that
needs a remedy has to get one that gives a piece.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from names import us_names

from proofgen.artwork.artwork import Made
from proofgen.artwork.compose import fit_slots
from proofgen.artwork.rules import rules_for
from proofgen.artwork.settle import Piece, settled
from proofgen.designs.design import Design, Slot
from proofgen.designs.resolve import resolve
from proofgen.lettering.fit import choose, failure
from proofgen.lettering.lines import broken
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
# Faker's locales whose names are in Latin letters.
LATIN = (
    "az_AZ", "cs_CZ", "da_DK", "de_AT", "de_CH", "de_DE", "en_AU", "en_CA", "en_GB", "en_IE",
    "en_IN", "en_NZ", "en_US", "es_AR", "es_CA", "es_CL", "es_CO", "es_ES", "es_MX", "et_EE",
    "fi_FI", "fr_BE", "fr_CA", "fr_CH", "fr_FR", "fr_QC", "ga_IE", "hr_HR", "hu_HU", "id_ID",
    "it_IT", "lt_LT", "lv_LV", "nl_BE", "nl_NL", "no_NO", "pl_PL", "pt_BR", "pt_PT", "ro_RO",
    "sk_SK", "sl_SI", "sv_SE", "tr_TR", "tw_GH", "vi_VN", "yo_NG", "zu_ZA",
)  # fmt: skip
CHUNK = 500
# The forms of a remedy, as proofgen/remedies writes them.
REMEDIES = re.compile(
    r"Break it over (?P<lines>\d+) lines in the cell: it would reach (?P<a>[\d.]+) mm\."
    r"|Type (?P<face>[^:]+?) in a Face column: it would reach (?P<b>[\d.]+) mm\."
    r"|Choose the design (?P<design>[^:]+): it would reach (?P<c>[\d.]+) mm\."
    r'|"(?P<part>[^"]+)" would reach (?P<d>[\d.]+) mm\.'
)
Outcome = str


@lru_cache(maxsize=1)
def shop() -> Shop:
    return open_shop()


def order_of(design: str, name: str) -> Order:
    return Order("1", 1, Source("", "", 1), design, (("name", name),))


@lru_cache
def usual(design: str) -> Design:
    """The design as it is before it grows for a name."""
    resolved, _ = resolve(shop().templates[design], order_of(design, "Ida"), shop().workshop)
    assert resolved is not None
    return resolved


def outcome(design: str, name: str) -> Outcome:
    """wanted, least or remedy: how the name slot of the design takes that name."""
    order, workshop, bench = order_of(design, name), shop().workshop, shop().bench
    grown = settled([Piece(order, usual(design))], False, workshop, bench)[0]
    slot = next(slot for slot in grown.slots if slot.field == "name")
    reached = engraved(name, slot, grown) if slot.made == "engrave" else cut(order, grown)
    if not reached:
        return "remedy"
    return "wanted" if reached >= slot.cap_height.wanted - 0.005 else "least"


def engraved(name: str, slot: Slot, design: Design) -> float:
    """The cap height where all limits of lettering are met, else 0."""
    rules = rules_for(slot, design, shop().workshop)
    name = name.upper() if slot.case == "capitals" else name
    choice = choose(name, slot, rules, shop().bench)
    if choice is None or failure(choice, slot, rules, "row 1"):
        return 0.0
    return choice.trial.cap_height


def cut(order: Order, design: Design) -> float:
    """The same for letters that are cut, which must hold together as well."""
    items = fit_slots(order, design, shop().workshop, shop().bench)
    item = next(item for item in items if item.slot.field == "name")
    return item.lettering.cap_height if item.lettering else 0.0


def outcomes(task: tuple[str, tuple[str, ...]]) -> list[Outcome]:
    design, names = task
    found = [outcome(design, name) for name in names]
    shop().bench.cache.save()
    return found


def tasks(design: str, names: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for start in range(0, len(names), CHUNK):
        yield design, names[start : start + CHUNK]


def phrase(task: tuple[str, str]) -> tuple[Outcome, int, int]:
    """How the design takes the phrase, how many remedies are named, how many of them are true."""
    design, text = task
    order = order_of(design, text)
    made = make_row(Line(order), shop())
    if made.artwork:
        return outcome(design, text), 0, 0
    named = [m for flag in made.flags for m in REMEDIES.finditer(flag.remedy)]
    return "remedy", len(named), sum(holds(order, remedy) for remedy in named)


def holds(order: Order, remedy: re.Match[str]) -> bool:
    """Whether the piece is made, at that cap height, once the remedy is followed."""
    made = make_row(Line(followed(order, remedy)), shop())
    promised = next(float(remedy[key]) for key in "abcd" if remedy[key])
    return abs(name_height(made) - promised) < 0.006


def followed(order: Order, remedy: re.Match[str]) -> Order:
    if remedy["design"]:
        return replace(order, design=remedy["design"])
    if remedy["face"]:
        return replace(order, options=(("face", remedy["face"]),))
    words = order.field("name").split()
    lines = remedy["lines"]
    text = "\n".join(broken(words, int(lines))) if lines else remedy["part"]
    return replace(order, fields=(("name", text),))


def name_height(made: Made) -> float:
    if made.artwork is None:
        return 0.0
    return next(x.cap_height for x in made.artwork.lettering if x.field == "name")


def faker_names(count: int) -> tuple[str, ...]:
    """So many different first names a locale, where it has as many; the same at every run."""
    from faker import Faker

    names: dict[str, None] = {}
    for locale in LATIN:
        generator = Faker(locale)
        generator.seed_instance(2027)
        names |= dict.fromkeys(generator.first_name() for _ in range(count))
    return tuple(names)


def sweep_faker(design: str, names: tuple[str, ...], pool: ProcessPoolExecutor) -> None:
    found = [each for part in pool.map(outcomes, tasks(design, names)) for each in part]
    failing = [n for n, result in zip(names, found, strict=True) if result == "remedy"]
    helped = list(pool.map(phrase, ((design, name) for name in failing)))
    none = [n for n, (_, _, true) in zip(failing, helped, strict=True) if not true]
    fit = 1 - len(failing) / len(names)
    print(f"{design:12} {len(names)} names by Faker: {fit:.3%} fit, {len(failing)} need a remedy")
    print(f"{'':12} {len(none)} of these have none that passes {none}", flush=True)


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


def report_phrases(design: str, found: list[tuple[Outcome, int, int]]) -> None:
    counts = Counter(result for result, _, _ in found)
    helped = sum(true > 0 for _, _, true in found)
    named, true = sum(n for _, n, _ in found), sum(t for _, _, t in found)
    print(
        f"{design:12} {len(found)} phrases: wanted {counts['wanted']}, least {counts['least']},"
        f" need a remedy {counts['remedy']}, of which {helped} have one;"
        f" {true} of {named} remedies pass"
    )


def spread(table: tuple[tuple[str, int], ...], sample: int) -> tuple[tuple[str, int], ...]:
    """So many names at even steps of rank; all where none are asked for."""
    if not 0 < sample < len(table):
        return table
    return tuple(table[i * len(table) // sample] for i in range(sample))


def sweep(
    design: str, names: tuple[str, ...], births: list[int], pool: ProcessPoolExecutor
) -> None:
    found: list[Outcome] = []
    for part in pool.map(outcomes, tasks(design, names)):
        found += part
        print(f"\r{design}: {len(found)} of {len(names)} names ", end="", file=sys.stderr)
    print(file=sys.stderr)
    report(design, found, births)
    report_phrases(design, list(pool.map(phrase, ((design, text) for text in PHRASES))))


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--sample", type=int, default=0, help="only N names, at even steps")
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--faker", type=int, default=0, help="N names a locale instead")
    options.add_argument("--design", action="append", choices=tuple(shop().templates))
    chosen = options.parse_args()
    if chosen.faker:
        names = faker_names(chosen.faker)
        with ProcessPoolExecutor(chosen.jobs, mp_context=get_context("spawn")) as pool:
            for design in chosen.design or shop().templates:
                sweep_faker(design, names, pool)
        return
    table = spread(us_names(), chosen.sample)
    names, births = tuple(n for n, _ in table), [count for _, count in table]
    print(f"{len(names)} names, {sum(births)} births", flush=True)
    with ProcessPoolExecutor(chosen.jobs, mp_context=get_context("spawn")) as pool:
        for design in chosen.design or shop().templates:
            sweep(design, names, births, pool)


if __name__ == "__main__":
    main()
