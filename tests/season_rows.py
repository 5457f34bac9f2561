"""Seasons made up for the tests, by hand and by hypothesis."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st
from money_numbers import SIMPLE, moneys, orders, shop

from proofgen.flags import kinds
from proofgen.money.account import total
from proofgen.money.order import accounts
from proofgen.season.figures import Passage, Row, Season, figures
from proofgen.season.words import Told
from proofgen.sheets.losses import Losses
from proofgen.workshop.workshop import Workshop

HOSTILE = ('=HYPERLINK("x")', "</section><script>alert(1)</script>", "W" * 120, "+1", "@x", "&amp;")
DESIGNS = ("Regatta boat", "Harbour lantern", *HOSTILE)
FOUND = (kinds.YEAR_BLANK, kinds.CASE_UNUSUAL, kinds.NAME_MISSING)
MONDAY = date(2027, 4, 5)


def told(workshop: Workshop) -> Told:
    return Told("Lanternhaven <Keepsakes>", "orders.xlsx", "2027-06-20", workshop)


@st.composite
def seasons(draw: st.DrawFn) -> tuple[Season, Workshop]:
    workshop = shop(draw(moneys()))
    days = st.none() | st.integers(0, 80).map(lambda n: MONDAY + timedelta(n))
    rows: list[Row] = []
    for number in range(draw(st.integers(0, 4))):
        pieces = draw(orders(workshop.money))
        asked = draw(days)
        known = draw(st.booleans())
        for each in accounts(pieces, workshop, "post"):
            rows.append(
                Row(
                    order=f"LH-{number}",
                    number=len(rows) + 2,
                    name=draw(st.sampled_from(("Ida", *HOSTILE))),
                    design=draw(st.sampled_from(DESIGNS)),
                    pieces=1,
                    verdict=draw(st.sampled_from(("ready", "look", "stop"))),
                    flags=tuple(draw(st.sets(st.sampled_from(FOUND)))),
                    sold=draw(st.booleans()),
                    asked=asked,
                    account=each if known else None,
                )
            )
    reasons = draw(st.lists(st.sampled_from(HOSTILE), unique=True))
    lost = Losses(draw(st.integers(0, 9)), len(reasons), tuple((why, 1) for why in reasons))
    return figures(rows, draw(st.lists(passages())), lost), workshop


def passages() -> st.SearchStrategy[Passage]:
    count = st.integers(0, 5)
    return st.builds(Passage, st.just("LH"), count, count, st.none() | st.integers(0, 200))


def full(pieces: Any) -> tuple[Season, Workshop]:
    """A season of many rows with everything that a text can be, from the pieces of one order."""
    workshop = shop(SIMPLE)
    account = total(accounts(pieces, workshop))
    rows = [
        Row(
            order=f"LH-{n}",
            number=n + 2,
            name=HOSTILE[n % len(HOSTILE)],
            design=DESIGNS[n % len(DESIGNS)],
            pieces=len(pieces),
            verdict=("ready", "look", "stop")[n % 3],
            flags=FOUND[: n % 4],
            sold=True,
            asked=MONDAY + timedelta(n % 70) if n % 9 else None,
            account=account,
        )
        for n in range(60)
    ]
    ways = [Passage(f"LH-{n}", n % 4 + 1, 1, n * 2) for n in range(60)]
    return figures(rows, ways, Losses(50, 6, tuple((why, 1) for why in HOSTILE))), workshop
