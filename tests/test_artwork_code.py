"""Proof codes: what changes them, what does not, and what is no code."""

from __future__ import annotations

import json
import random
import shutil
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from books import lines, write_book

from proofgen.artwork.proofcode import ALPHABET, normal_code
from proofgen.day import pipeline, rows
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.designs.read import read_template
from proofgen.resources import folder

GOLDEN = Path(__file__).parent / "golden" / "codes.json"
CASES = {
    "short name": {"name": "Otto", "design": "boat"},
    "long name": {"name": "Wilhelmina", "design": "lantern"},
    "kerned": {"name": "Ava Toy", "design": "plaque"},
    "two words": {"name": "The Oyelaran Family", "design": "plaque"},
    "line break": {"name": "Mama\nIlse", "design": "lantern"},
    "inscription": {"name": "Maribel", "design": "plaque", "inscription": "Lowenhithe Harbour"},
    "joined face": {"name": "Xavier", "design": "lantern", "face": "Pacifico"},
    "narrow face": {"name": "Bartholomew Fenwharf", "design": "boat"},
    "finish": {"name": "Otto", "design": "boat", "finish": "walnut"},
    "hanger": {"name": "Otto", "design": "boat", "hanger": "cord"},
    "another year": {"name": "Otto", "design": "boat", "year": "1999"},
    "no year": {"name": "Otto", "design": "boat", "year": "none"},
    "marks": {"name": "Nguyễn Thị Ánh", "design": "lantern"},
    "Hebrew": {"name": "נועה", "design": "boat"},
    "Arabic": {"name": "ليلى", "design": "lantern"},
    "Cyrillic": {"name": "Светлана", "design": "plaque"},
}
ROWS = [{"order": f"T-{i}", **case} for i, case in enumerate(CASES.values(), start=1)]


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


def code(path: Path, shop: Shop, **cells: str) -> str:
    (line,) = lines(
        path / "orders.xlsx", {"order": "T-1", "name": "Otto", "design": "boat"} | cells
    )
    made = make_row(line, shop)
    assert made.code, [flag.text for flag in made.flags]
    return made.code


def checked(book: Path, jobs: int = 1) -> dict[str, str]:
    run = pipeline.check(book, pipeline.Options(jobs=jobs), lambda *_: None)
    return {made.order.number: made.code for made in run.rows}


def test_codes_of_the_golden_table(tmp_path, shop, update):
    """The same decisions have the same code for ever, or proofs that were sent go stale."""
    made = [make_row(line, shop) for line in lines(tmp_path / "orders.xlsx", *ROWS)]
    found = {case: row.code for case, row in zip(CASES, made, strict=True)}
    if update:
        GOLDEN.parent.mkdir(exist_ok=True)
        text = json.dumps(found, ensure_ascii=False, indent=1)
        GOLDEN.write_text(text + "\n", encoding="utf-8", newline="\n")
    assert all(found.values())
    assert len(set(found.values())) == len(found)
    assert found == json.loads(GOLDEN.read_text(encoding="utf-8"))


def test_codes_do_not_depend_on_order_processes_or_cache(tmp_path, monkeypatch):
    monkeypatch.setattr(rows, "_open", {})
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    some = ROWS[:6]
    cold = checked(write_book(tmp_path / "orders.xlsx", some))
    assert any((tmp_path / "cache").iterdir()) and all(cold.values())
    monkeypatch.setattr(rows, "_open", {})
    random.Random(1).shuffle(some)
    shuffled = write_book(tmp_path / "shuffled.xlsx", some)
    assert checked(shuffled) == cold
    assert checked(shuffled, jobs=2) == cold


def test_what_the_piece_does_not_depend_on(tmp_path, shop):
    plain = code(tmp_path, shop)
    assert code(tmp_path, shop, due="2027-06-12", buyer="M. Tarrow", quantity="3") == plain
    assert code(tmp_path, shop, approved=plain) == plain
    machine = replace(shop.workshop.machine, kerf=0.2)
    groups = tuple(replace(group, colour=(1, 2, 3)) for group in shop.workshop.groups)
    other = replace(shop, workshop=replace(shop.workshop, machine=machine, groups=groups))
    assert code(tmp_path, other) == plain


def test_composed_and_decomposed_text_are_one(tmp_path, shop):
    spellings = "Zoë Ådne", "Zoe\u0308 A\u030adne"
    rows = [{"order": "T-1", "name": name, "design": "boat"} for name in spellings]
    one, other = (make_row(line, shop) for line in lines(tmp_path / "orders.xlsx", *rows))
    assert one.code == other.code != ""
    assert one.artwork and other.artwork and one.artwork.lettering == other.artwork.lettering


def test_one_coordinate_changes_the_code(tmp_path, shop):
    copied = tmp_path / "boat"
    shutil.copytree(folder("templates") / "boat", copied)
    same = read_template(copied, shop.workshop)
    plain = code(tmp_path, shop)
    assert code(tmp_path, replace(shop, templates={"boat": same})) == plain
    drawing = copied / "boat.svg"
    text = drawing.read_text(encoding="utf-8")
    start = text.index('d="M', text.index("cut-outside")) + 4
    end = text.index(",", start)
    moved = f"{float(text[start:end]) + 0.001:.3f}"
    drawing.write_text(text[:start] + moved + text[end:], encoding="utf-8", newline="")
    changed = read_template(copied, shop.workshop)
    assert code(tmp_path, replace(shop, templates={"boat": changed})) != plain


def test_slips_in_a_code_are_found():
    """Every single wrong character and every swap of two, over a code that holds no pair."""
    right = "K7MT-4Q2"
    right += next(c for c in ALPHABET if normal_code(right + c))
    assert normal_code(f" {right.lower().replace('-', ' ')} ") == right
    places = [i for i, c in enumerate(right) if c != "-"]
    for place in places:
        for wrong in set(ALPHABET) - {right[place]}:
            assert normal_code(right[:place] + wrong + right[place + 1 :]) is None
    for i, j in combinations(places, 2):
        swapped = list(right)
        swapped[i], swapped[j] = swapped[j], swapped[i]
        assert right[i] == right[j] or normal_code("".join(swapped)) is None


@pytest.mark.parametrize("typed", ["", "yes", "K7MT-4Q2", "0000-0000", "K7MT-4Q2A-B"])
def test_what_is_no_code(typed):
    assert normal_code(typed) is None
