"""From an approved book to boards and to what is done at the bench, in one go."""

from __future__ import annotations

import html
import re
from collections import Counter
from datetime import date
from pathlib import Path

import pypdfium2
from books import write_book

from proofgen.day import pipeline
from proofgen.day.rows import Options
from proofgen.making.sheet_files import Form
from proofgen.making.sheets import Sheets, sheets
from proofgen.making.wanting import Wish

ROWS = (
    {"order": "LR-1", "name": "Bo", "design": "lantern", "quantity": 2, "buyer": "Tamsin Reed"},
    {"order": "LR-2", "name": "Mara", "design": "boat", "quantity": 1, "buyer": "Corwin Vale"},
    {"order": "LR-2", "name": "Nils", "design": "lantern", "quantity": 1, "buyer": "Corwin Vale"},
    {"order": "LR-3", "name": "Jonas", "design": "plaque", "quantity": 1, "buyer": "Isolde Marsh"},
)
UNASKED = "LR-3"  # no answer yet


def quiet(*_: int) -> None:
    pass


def laid(book: Path) -> Sheets:
    wish = Wish(seconds=1.0)
    return sheets(book, Options(), wish, Form(), quiet, date(2027, 6, 2))


def test_the_bench_is_told_of_each_approved_copy_once_and_as_the_plan_has_it(
    tmp_path: Path,
) -> None:
    rows = [{**row, "year": 2027, "due": "2027-06-12", "approved": None} for row in ROWS]
    book = write_book(tmp_path / "orders.xlsx", rows)
    shown = pipeline.proof(book, Options(), quiet).rows
    for row, made in zip(rows, shown, strict=True):
        row["approved"] = made.code if row["order"] != UNASKED else None
    run = laid(write_book(book, rows))
    assert [path.name for path in run.jobs] == ["jobs.pdf", "jobs.html"]

    page = run.jobs[1].read_text(encoding="utf-8")
    for planned in run.planned:
        # Numbers on the board's list run as the plan sets the pieces free.
        own = _table(page, planned.job.id.lower())
        order = [each.layer for each in planned.in_order()]
        assert [row[0] for row in own] == [f"{i}" for i in range(1, len(order) + 1)]
        assert [row[3] for row in own] == order
        copies = [f" ({e.copy})" if e.copy > 1 else "" for e in planned.in_order()]
        told = [f"{e.number} {e.name}{c}" for e, c in zip(planned.in_order(), copies, strict=True)]
        assert [row[2] for row in own] == told
    wanted = ["LR-1 Bo", "LR-1 Bo (2)", "LR-2 Mara", "LR-2 Nils"]
    pack = re.search(r'id="(session-\d+)-h">Pack<', page)
    assert pack is not None
    assert Counter(row[1] for row in _table(page, pack[1])) == Counter(wanted)

    pdf = pypdfium2.PdfDocument(run.jobs[0])
    text = " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in pdf)
    assert "Isolde Marsh" not in text and "Jonas" not in text
    assert all(name in text for name in wanted)
    # The pictures that were sent are on the slips.
    assert page.count("data:image/webp") == 3

    # Once nothing is to be done the old sheets do not lie about as if they were of today.
    for row in rows:
        row["approved"] = None
    empty = laid(write_book(book, rows))
    assert empty.jobs == () and not any(path.exists() for path in run.jobs)
    assert {f"jobs-01{path.suffix}" for path in run.jobs} <= {p.name for p in empty.earlier}


def _table(page: str, section: str) -> list[list[str]]:
    """The cells of the rows of a section that have a box to tick."""
    own = page.split(f'<section id="{section}"')[1].split("</section>")[0]
    rows = re.findall(r'<tr class="ticked">(.*?)</tr>', own, re.DOTALL)
    return [
        [html.unescape(cell) for cell in re.findall(r"<td data-head=[^>]*>(.*?)</td>", row)]
        for row in rows
    ]
