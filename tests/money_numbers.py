"""Any workshop's money, any piece's work, and one simple workshop to reckon by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import strategies as st

from proofgen.money.order import Piece
from proofgen.money.work import Work
from proofgen.workshop.money import HAND_STEPS, BoardPrice, Delivery, Fees, Money
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

SHIPPED = load(None)

SIMPLE = Money(
    decimals=2,
    wage=Decimal(30),
    machine_minute=Decimal("0.20"),
    waste=Decimal("0.25"),
    loss=Decimal("0.1"),
    hand=tuple((step, Decimal(2)) for step in HAND_STEPS),
    extras=(("packaging", Decimal("0.5")), ("ribbon", Decimal("0.3")), ("cord", Decimal("0.2"))),
    fees=Fees(Decimal("0.03"), Decimal("0.30")),
    family=((3, Decimal("0.1")),),
    deliveries=(Delivery("post", Decimal("6.50"), Decimal("5.20")),),
)


def shop(money: Money, board: BoardPrice | None = None) -> Workshop:
    board = board or BoardPrice(Decimal(6), Decimal(600), Decimal(300))
    materials = tuple(replace(each, price=board) for each in SHIPPED.materials)
    return replace(SHIPPED, money=money, materials=materials)


def amounts(most: int = 500) -> st.SearchStrategy[Decimal]:
    return st.decimals(0, most, places=2)


def share() -> st.SearchStrategy[Decimal]:
    return st.decimals(0, Decimal("0.9"), places=4)


@st.composite
def moneys(draw: st.DrawFn) -> Money:
    decimals = draw(st.integers(0, 3))
    offs = sorted(draw(st.lists(share(), max_size=3)))
    return Money(
        decimals=decimals,
        wage=draw(st.decimals(0, 300, places=3)),
        machine_minute=draw(st.decimals(0, 5, places=4)),
        waste=draw(share()),
        loss=draw(share()),
        hand=tuple((step, draw(st.decimals(0, 60, places=2))) for step in HAND_STEPS),
        extras=(("packaging", draw(amounts(9))), ("ribbon", draw(amounts(9)))),
        fees=Fees(draw(share()), draw(st.decimals(0, 2, places=decimals))),
        family=tuple(enumerate(offs, 2)),
        deliveries=(
            Delivery(
                "post",
                draw(st.decimals(0, 20, places=decimals)),
                draw(st.decimals(0, 20, places=decimals)),
            ),
        ),
    )


@st.composite
def works(draw: st.DrawFn) -> Work:
    material = st.sampled_from(["birch-3", "maple-3"])
    layers = draw(st.lists(st.tuples(material, amounts(40000)), min_size=1, max_size=4))
    return Work(
        tuple(layers),
        draw(st.decimals(0, 90, places=3)),
        draw(st.integers(0, len(layers))),
        draw(st.sampled_from(["ribbon", "cord", "none"])),
    )


def orders(money: Money) -> st.SearchStrategy[list[Piece]]:
    prices = st.decimals(0, 999, places=money.decimals)
    return st.lists(st.builds(Piece, works(), prices), min_size=1, max_size=6)
