"""The season in figures: parts are the whole to the cent, weeks follow one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import Phase, given, settings, strategies as st
from season_rows import FOUND, MONDAY, seasons, told

from proofgen.errors import UnusableError
from proofgen.money.account import Account
from proofgen.season.figures import NO_DAY, Group, Passage, Row, Season, figures
from proofgen.season.page import check_page, page
from proofgen.season.plots import Bar, bars, columns
from proofgen.season.workbook import check_workbook, write_workbook
from proofgen.sheets.losses import Losses
from proofgen.workshop.workshop import Workshop

NONE = Losses(0, 0, ())
# Writing a workbook takes too long to look for the smallest that fails.
FOUND_ONLY = (Phase.explicit, Phase.reuse, Phase.generate)
SUMS = ("income", "cost", "profit")
ROW = Row("A", 2, "Ida", "Boat", 1, "ready", (), True, MONDAY, None)


@given(seasons())
@settings(deadline=None, max_examples=60)
def test_parts_add_up_to_the_rows_to_the_cent(made: tuple[Season, Workshop]) -> None:
    season, _ = made
    sold = [row for row in season.rows if row.sold]
    accounts = [row.account for row in sold if row.account]
    for groups in (season.designs, season.weeks, [season.whole]):
        assert sum(group.pieces for group in groups) == sum(row.pieces for row in sold)
        assert sum(group.reckoned for group in groups) == len(accounts)
        for name in SUMS:
            parts = [getattr(group.account, name) for group in groups]
            assert sum(parts) == sum(getattr(account, name) for account in accounts)
    assert season.whole.orders == len({row.order for row in sold})
    assert sum(count for _, count in season.verdicts) == len(season.rows)
    for each in season.found:
        assert each.names == sum(each.kind in row.flags for row in season.rows)
    mondays = [group.label for group in season.weeks if group.label != NO_DAY]
    days = [date.fromisoformat(monday) for monday in mondays]
    assert all(day.weekday() == 0 for day in days)
    assert days == [days[0] + timedelta(7 * i) for i in range(len(days))] if days else True


@given(seasons())
@settings(deadline=None, max_examples=20, phases=FOUND_ONLY)
def test_the_workbook_holds_the_same_sums_and_no_formula(
    tmp_path_factory: pytest.TempPathFactory, made: tuple[Season, Workshop]
) -> None:
    season, workshop = made
    file = tmp_path_factory.mktemp("season") / "orders-season.xlsx"
    write_workbook(file, season, told(workshop))
    check_workbook(file)
    book = openpyxl.load_workbook(file)
    cells = [cell for sheet in book for line in sheet.iter_rows() for cell in line]
    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    read = [line[:11] for line in book["Rows"].iter_rows(min_row=2, values_only=True)]
    assert [line[2] for line in read] == [row.name for row in season.rows]
    known = [line[8:] for line in read if line[6] == "yes" and line[8] is not None]
    own = [[Decimal(str(value)) for value in sums] for sums in known]
    for title, groups in (("By design", season.designs), ("By week", season.weeks)):
        lines = list(book[title].iter_rows(min_row=2, max_row=len(groups) + 2, values_only=True))
        assert [line[0] for line in lines] == [*(group.label for group in groups), "all"]
        for column, name in enumerate(SUMS, start=4):
            written = [Decimal(str(line[column])) for line in lines]
            assert sum(written[:-1]) == written[-1] == getattr(season.whole.account, name)
            assert written[-1] == sum(line[column - 4] for line in own)
        last = f":$C${len(groups) + 1}" if len(groups) > 1 else ""
        assert charted(book[title]) == [f"$C$2{last}"] * bool(groups)


def charted(sheet: openpyxl.worksheet.worksheet.Worksheet) -> list[str]:
    """The cells that the first chart of a sheet draws, as the file names them."""
    series = [chart.series[0] for chart in sheet._charts[:1]]
    return [each.val.numRef.f.partition("!")[2] for each in series]


def test_orders_of_several_designs_count_for_each_and_once_in_all() -> None:
    rows = [ROW, replace(ROW, design="Plaque"), replace(ROW, order="B", sold=False)]
    season = figures(rows, [], NONE)
    assert [(group.label, group.orders) for group in season.designs] == [("Boat", 1), ("Plaque", 1)]
    assert (season.whole.orders, season.whole.pieces, season.whole.reckoned) == (1, 2, 0)


def test_a_mistyped_year_makes_no_thousand_weeks() -> None:
    rows = [ROW, replace(ROW, asked=date(1927, 4, 5)), replace(ROW, asked=None)]
    assert [g.label for g in figures(rows, [], NONE).weeks] == ["1927-04-04", "2027-04-05", NO_DAY]


def test_proofs_and_days_by_hand() -> None:
    told_days = [0, 7, 8, 84, 85, 300]
    ways = [Passage(str(d), 1, 1, d) for d in told_days]
    ways += [Passage("set", 7, 3, None), Passage("waits", 5, 0, None)]
    season = figures([], ways, NONE)
    assert season.proofs == (("1 picture", 6), ("2 pictures", 0), ("3 pictures", 1))
    assert (season.pictures, season.approvals) == (13, 9)
    days = dict(season.days)
    assert [days["0 to 7 days"], days["8 to 14 days"], days["15 to 21 days"]] == [2, 1, 0]
    assert (days["78 to 84 days"], days["more than 84 days"]) == (1, 2)
    assert season.middle == 46


def test_findings_come_gravest_first() -> None:
    rows = [replace(ROW, flags=FOUND), replace(ROW, flags=FOUND[:1])]
    found = figures(rows, [], NONE).found
    ids = [(each.kind.id, each.names) for each in found]
    assert ids == [("name-missing", 1), ("case-unusual", 1), ("year-blank", 2)]


@given(st.lists(st.floats(-500, 500), min_size=1, max_size=30))
def test_plots_show_values_in_proportion_and_stay_inside(values: list[float]) -> None:
    rows = [Bar(f"<{i}>", value, f"{value:.2f}") for i, value in enumerate(values)]
    low, high = min(0.0, *values), max(0.0, *values)
    span = high - low or 1
    for plot, size, at, most in ((bars, "width", "x", 100), (columns, "height", "y", 130)):
        drawn = plot("Title", rows)
        assert "<0>" not in drawn
        found = [(length(rect, size), length(rect, at)) for rect in rects(drawn)]
        assert len(found) == len(values)
        for (long, start), value in zip(found, values, strict=True):
            assert long == pytest.approx(abs(value) / span * most, abs=0.06)
            assert -0.06 <= start <= start + long <= most + 0.12


def rects(drawn: str) -> Sequence[str]:
    return [part for part in drawn.split("<rect ")[1:] if 'class="track"' not in part]


def length(rect: str, name: str) -> float:
    return float(rect.partition(f' {name}="')[2].partition('"')[0].rstrip("%"))


@given(seasons())
@settings(deadline=None, max_examples=25)
def test_the_page_tells_every_sum_and_runs_nothing(made: tuple[Season, Workshop]) -> None:
    season, workshop = made
    text, words = page(season, told(workshop)), told(workshop)
    assert "<script" not in text
    assert text.count("<section>") == 8
    for group in (season.whole, *season.designs):
        sums = [words.sum(getattr(group.account, name)) for name in SUMS]
        told_here = "".join(f"<td>{each}</td>" for each in sums)
        assert not season.whole.orders or told_here in text


def test_a_loss_is_told_with_its_sign() -> None:
    minus = Account(1, Decimal("3.20"), Decimal("6.40"), Decimal(), ())
    season = figures([replace(ROW, account=minus)], [], NONE)
    assert season.whole == Group("all", 1, 1, 1, minus)
    from money_numbers import SHIPPED

    assert "-$3.20" in page(season, told(SHIPPED))


def test_files_of_somebody_else_stay(tmp_path) -> None:
    foreign = tmp_path / "orders-season.xlsx"
    book = openpyxl.Workbook()
    book.worksheets[0].append(["Season", "plans"])
    book.save(foreign)
    with pytest.raises(UnusableError, match="is no season report of ours"):
        check_workbook(foreign)
    html = tmp_path / "orders-season.html"
    html.write_text("<title>my season</title>", encoding="utf-8")
    with pytest.raises(UnusableError, match="is no season report of ours"):
        check_page(html)
