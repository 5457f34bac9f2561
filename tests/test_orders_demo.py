"""The demo book is what its script builds, and holds the troubles that it promises."""

from __future__ import annotations

import runpy
from dataclasses import replace
from pathlib import Path

from proofgen.orders.read import read_book
from proofgen.workshop.read import load

DEMO = Path(__file__).parents[1] / "demo"
SHOP = replace(load(None), edition_year=2027)


def test_the_committed_book_is_the_one_that_the_script_builds(
    tmp_path: Path,
) -> None:
    script = runpy.run_path(str(DEMO / "book.py"))
    script["main"].__globals__["BOOK"] = tmp_path / "orders.xlsx"
    script["main"]()
    assert read_book(tmp_path / "orders.xlsx", SHOP) == read_book(DEMO / "orders.xlsx", SHOP)


def test_the_demo_book_has_real_troubles() -> None:
    lines, (hidden,) = read_book(DEMO / "orders.xlsx", SHOP)
    assert len(lines) >= 24
    assert hidden.kind.id == "rows-hidden"
    assert [line.order.number for line in lines].count("LH-1008") == 3
    found = {flag.kind.id for line in lines for flag in line.flags}
    assert found == {
        "text-became-date", "text-became-truth", "name-missing", "order-unsafe", "spaces-tidied",
        "year-blank", "year-not-a-year", "day-unread", "quantity-not-whole", "typography-tidied",
    }  # fmt: skip
