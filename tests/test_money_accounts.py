"""Money: parts add up to totals to the cent whatever the numbers, and a price earns its wage."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings, strategies as st
from money_numbers import SHIPPED, SIMPLE, amounts, moneys, orders, shop, works

from proofgen.errors import UnusableError
from proofgen.money.account import NOTHING, Account, rates, total
from proofgen.money.cost import FEES, HAND, MACHINE, MATERIAL
from proofgen.money.order import Piece, accounts
from proofgen.money.shares import rounded_together, shared
from proofgen.money.table import table
from proofgen.money.wage import earns_wage, price_for_wage
from proofgen.money.work import Work, measured
from proofgen.workshop.money import Money


@given(st.decimals(-999, 999, places=2), st.lists(amounts(), min_size=1, max_size=30))
def test_shares_add_up_and_none_is_a_cent_off(amount: Decimal, weights: list[Decimal]) -> None:
    parts = shared(amount, weights, 2)
    assert sum(parts) == amount
    whole = sum(weights) or len(weights)
    for part, weight in zip(parts, weights, strict=True):
        fair = Fraction(amount) * Fraction(weight if sum(weights) else 1) / Fraction(whole)
        assert abs(Fraction(part) - fair) < Fraction(1, 100)


def test_shares_by_largest_remainder() -> None:
    # By hand: 100 over 1, 1, 1 and 10.00 over 6, 3, 1 of 1/7: 8.571, 4.285 and 1.428 of 14.285.
    assert shared(Decimal("1.00"), [1, 1, 1], 2) == tuple(map(Decimal, ("0.34", "0.33", "0.33")))
    assert shared(Decimal("10.00"), [4, 2, 1], 2) == tuple(map(Decimal, ("5.71", "2.86", "1.43")))
    assert shared(Decimal(5), [0, 0], 0) == (Decimal(3), Decimal(2))


@given(moneys(), st.lists(st.fractions(0, 50), max_size=30))
def test_rounding_together_loses_nothing(money: Money, exact: list[Fraction]) -> None:
    unit = Fraction(1, 10**money.decimals)
    parts = rounded_together(exact, money)
    assert abs(Fraction(sum(parts)) - sum(exact)) <= unit / 2
    assert all(abs(Fraction(p) - e) < unit for p, e in zip(parts, exact, strict=True))


def test_an_order_by_hand() -> None:
    """Two layers of 90 cm² and 45 cm², one stained, on a ribbon, 10 minutes; price 26, posted."""
    work = Work((("birch-3", Decimal(9000)), ("birch-3", Decimal(4500))), Decimal(10), 1, "ribbon")
    (found,) = accounts([Piece(work, Decimal("26.00"))], shop(SIMPLE), "post")
    amounts = {line.what: line.amount for line in found.lines}
    # 6 * 13500 / (600 * 300 * 0.75) = 0.60; a minute by hand is 0.50; a tenth is made again.
    assert amounts == {
        "3 mm birch ply": Decimal("0.60"),
        "machine": Decimal("2.00"),
        "weeding": Decimal("2.00"),
        "sanding": Decimal("2.00"),
        "staining": Decimal("1.00"),
        "gluing": Decimal("1.00"),
        "packing": Decimal("1.00"),
        "messaging": Decimal("1.00"),
        "again: material": Decimal("0.06"),
        "again: machine": Decimal("0.20"),
        "again: hand": Decimal("0.60"),
        "packaging": Decimal("0.50"),
        "ribbon": Decimal("0.30"),
        "fees": Decimal("1.28"),  # 3 % of 32.50 is 0.975; 1.275 rounds up
        "delivery": Decimal("5.20"),
    }
    assert found.income == Decimal("32.50")
    assert (found.cost, found.profit) == (Decimal("18.74"), Decimal("13.76"))
    assert found.earned == Decimal("22.36")
    assert (found.minutes(MACHINE), found.minutes(HAND)) == (Decimal(11), Decimal("17.2"))
    money = rates(found, SIMPLE)
    assert money.per_piece == Decimal("13.76")
    assert money.per_machine_minute == Decimal("1.25")
    assert money.per_hour == Decimal("78.00")


@given(st.data(), moneys())
@settings(deadline=None)
def test_an_order_adds_up_and_is_shared_without_loss(data: st.DataObject, money: Money) -> None:
    pieces = data.draw(orders(money))
    delivery = data.draw(st.sampled_from(["", "post"]))
    each = accounts(pieces, shop(money), delivery)
    whole, way = total(each), money.deliveries[0]
    unit = Decimal(1).scaleb(-money.decimals)
    listed = sum(piece.price for piece in pieces)
    assert whole.listed == listed
    # The discount and the fees of the whole order, not of its pieces one by one.
    assert whole.discount == money.amount(listed * money.discount(len(pieces)))
    assert whole.delivery == (way.asked if delivery else 0)
    fees = sum(line.amount for line in whole.lines if line.kind == FEES)
    assert fees == money.amount(whole.income * money.fees.share + money.fees.fixed)
    for name in ("pieces", "listed", "discount", "delivery", "income", "cost", "profit", "earned"):
        assert getattr(whole, name) == sum(getattr(account, name) for account in each), name
    assert whole.cost + whole.profit == whole.income
    for account in each:
        found = (account.income, *(line.amount for line in account.lines))
        assert all(amount == amount.quantize(unit) and amount >= 0 for amount in found)
    # By hand: all minutes but messaging are the pieces' own, messaging is one order's.
    hand = dict(money.hand)
    own = sum(hand[step] * times for p in pieces for step, times in p.work.hand())
    again = money.loss * (own - hand["packing"] * len(pieces))
    assert whole.minutes(HAND) == own + again + hand["messaging"]
    wages = whole.earned - whole.profit
    exact = Fraction(whole.minutes(HAND)) * Fraction(money.wage) / 60
    assert abs(Fraction(wages) - exact) <= Fraction(unit) / 2


@given(st.data(), moneys())
@settings(deadline=None)
def test_a_season_is_its_orders_however_they_are_added(data: st.DataObject, money: Money) -> None:
    workshop = shop(money)
    found = [accounts(data.draw(orders(money)), workshop, "post") for _ in range(3)]
    pieces = [account for order in found for account in order]
    by_order = total(map(total, found))
    assert by_order == total(pieces)
    shuffled = total(data.draw(st.permutations(pieces)))
    assert (shuffled.income, shuffled.cost) == (by_order.income, by_order.cost)
    assert sorted(shuffled.lines, key=str) == sorted(by_order.lines, key=str)


@given(moneys(), works(), st.integers(1, 5), st.sampled_from(["", "post"]))
@settings(deadline=None)
def test_a_price_earns_the_wage_and_a_cent_less_does_not(
    money: Money, work: Work, pieces: int, delivery: str
) -> None:
    workshop = shop(money)
    unit = Decimal(1).scaleb(-money.decimals)

    def order(each: Decimal) -> Account:
        return total(accounts([Piece(work, each)] * pieces, workshop, delivery))

    found = price_for_wage(work, workshop, pieces, delivery)
    enough = order(found)
    assert enough.earned * 60 >= money.wage * enough.minutes(HAND)
    assert earns_wage(enough, workshop)
    assert enough.profit >= 0
    if found:
        less = order(found - unit)
        assert less.earned * 60 < money.wage * less.minutes(HAND)


@given(moneys(), works())
@settings(deadline=None)
def test_a_price_for_one_piece_against_the_closed_form(money: Money, work: Work) -> None:
    """p - floor(s p + f + 1/2) >= n in whole cents; so p = floor((n + f - 1/2) / (1 - s)) + 1."""
    money = replace(money, decimals=2)
    workshop = shop(money)
    free = total(accounts([Piece(work, Decimal(0))], workshop))
    paid = sum(line.amount for line in free.lines if line.kind not in (HAND, FEES))
    wages = Fraction(free.minutes(HAND)) * Fraction(money.wage) / 60
    needed = 100 * Fraction(paid) + -(-100 * wages // 1)
    fixed, share = 100 * Fraction(money.fees.fixed), Fraction(money.fees.share)
    least = (needed + fixed - Fraction(1, 2)) / (1 - share) // 1 + 1
    assert price_for_wage(work, workshop) == Decimal(max(int(least), 0)) / 100


def test_geometry_and_clock_become_decimals_once() -> None:
    work = measured([("birch-3", 0.1 + 0.2), ("maple-3", 4500)], 90.0, 1, "cord")
    assert work == Work(
        (("birch-3", Decimal("0.30")), ("maple-3", Decimal("4500.00"))), Decimal("1.500"), 1, "cord"
    )


def test_a_material_without_a_price_and_an_unknown_way_are_told() -> None:
    work = Work((("birch-3", Decimal(1)),), Decimal(0))
    bare = tuple(replace(each, price=None) for each in SHIPPED.materials)
    with pytest.raises(UnusableError, match=r"materials\.birch-3: has no price; write"):
        accounts([Piece(work, Decimal(1))], replace(SHIPPED, materials=bare))
    with pytest.raises(UnusableError, match=r"no 'pots'; there is post"):
        accounts([Piece(work, Decimal(1))], shop(SIMPLE), "pots")


def test_the_table_shows_accounts_side_by_side() -> None:
    work = Work((("birch-3", Decimal(9000)),), Decimal(10))
    each = accounts([Piece(work, Decimal("26.00"))] * 3, shop(SIMPLE))
    text = table([("a piece", each[0]), ("the order", total(each)), ("none", NOTHING)], SHIPPED)
    rows = {line[: line.rindex("  ")].split("  ")[0]: line.split() for line in text.splitlines()}
    assert rows["prices"] == ["prices", "26.00", "78.00", "0.00"]
    assert rows["discount"] == ["discount", "-2.60", "-7.80", "0.00"]
    assert rows["3 mm birch ply"][-3:] == ["0.40", "1.20", "0.00"]
    assert rows["profit a piece"][-1] == "-"
    assert "earned an hour (wanted $25.00)" in text
    assert len({len(line) for line in text.splitlines()}) == 1


def test_the_defaults_price_every_material_that_ships() -> None:
    for material in SHIPPED.materials:
        work = Work(((material.id, Decimal(9000)),), Decimal(5), 1, "ribbon")
        assert price_for_wage(work, SHIPPED) > 0
        (found,) = accounts([Piece(work, Decimal(20))], SHIPPED)
        assert any(line.kind == MATERIAL and line.amount for line in found.lines)
