"""Reading the filled workbook, or a CSV with the same columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from proofgen.config import nearest
from proofgen.errors import UnusableError
from proofgen.orders.csv_book import read_csv
from proofgen.orders.package import look
from proofgen.orders.sheet import Cell, Holds, Row, Sheet, address
from proofgen.testcard.reading import Answer, Question, number_of

MARK, CAME_OUT, LOOKS_GOOD = "mark", "came out", "looks good"
MATERIAL = "material"
READABLE = (Holds.TEXT, Holds.NUMBER)

Found = dict[tuple[str, bool], Answer]


def read_answers(path: Path) -> tuple[Row, ...]:
    """The rows of the file's first sheet. UnusableError where it cannot be read."""
    kind = path.suffix.lower()
    try:
        data = path.read_bytes()
    except OSError as error:
        raise UnusableError(f"{path}: cannot be opened ({error.strerror}).") from None
    if kind in (".csv", ".tsv", ".txt"):
        return tuple(read_csv(path, data).rows)
    if kind not in (".xlsx", ".xlsm"):
        raise UnusableError(f"{path.name}: save the answers as .xlsx or .csv.")
    from proofgen.orders.xlsx import read_sheets

    look(path.name, data)
    sheet: Sheet = read_sheets(path.name, data)[0]
    return tuple(sheet.rows)


class Filled:
    """A filled sheet: the material that it says, and the answers to the questions asked."""

    def __init__(self, path: Path) -> None:
        self._name = path.name
        rows = read_answers(path)
        self._columns, header = self._head(rows)
        self._rows = [row for row in rows if row.number > header]
        self.material = next(
            (c.text.strip() for m, c in self._cells(CAME_OUT) if m == MATERIAL), ""
        )

    def answers(self, asked: Sequence[Question]) -> Found:
        """What is filled in. UnusableError for the first cell that cannot be used."""
        by_mark = {(question.mark, question.good): question for question in asked}
        marks = {question.mark for question in asked}
        found: Found = {}
        seen: dict[str, int] = {}
        for row in self._rows:
            mark = self._mark(row)
            if mark and mark not in marks | {MATERIAL}:
                raise UnusableError(
                    f"{self._name}, row {row.number}, column Mark: '{mark}' is not on the card; "
                    f"{nearest(mark, marks)}"
                )
            if mark and seen.setdefault(mark, row.number) != row.number:
                raise UnusableError(
                    f"{self._name}, row {row.number}, column Mark: '{mark}' stands in row "
                    f"{seen[mark]} too; keep one of them."
                )
            if mark != MATERIAL:
                found |= self._numbers(row, mark, by_mark)
        return found

    def _numbers(self, row: Row, mark: str, asked: Mapping[tuple[str, bool], Question]) -> Found:
        found: Found = {}
        for good, title in ((False, CAME_OUT), (True, LOOKS_GOOD)):
            cell = row.cells.get(self._columns[title])
            if cell is None or cell.blank:
                continue
            at = address(self._columns[title], row.number)
            place = f"{self._name}, row {row.number}, column {title} ({at})"
            question = asked.get((mark, good))
            if question is None:
                raise UnusableError(f"{place}: leave this cell blank; nothing is asked there.")
            if cell.holds not in READABLE:
                raise UnusableError(
                    f"{place}: the cell holds {_said(cell)}; type the number itself, such as 2.5."
                )
            found[mark, good] = Answer(number_of(cell.text, question, place), place)
        return found

    def _head(self, rows: Sequence[Row]) -> tuple[dict[str, int], int]:
        """Columns by title and the row that they stand in."""
        wanted = (MARK, CAME_OUT, LOOKS_GOOD)
        for row in rows[:10]:
            titles = {_plain(cell.text): column for column, cell in row.cells.items()}
            if all(title in titles for title in wanted):
                return {title: titles[title] for title in wanted}, row.number
        raise UnusableError(
            f"{self._name}: has no row with the titles Mark, Came out and Looks good; "
            "fill in the sheet that was written with the card."
        )

    def _cells(self, title: str) -> Iterator[tuple[str, Cell]]:
        for row in self._rows:
            cell = row.cells.get(self._columns[title])
            if cell:
                yield self._mark(row), cell

    def _mark(self, row: Row) -> str:
        cell = row.cells.get(self._columns[MARK])
        return _plain(cell.text) if cell else ""


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()


def _said(cell: Cell) -> str:
    kinds = {Holds.UNCOMPUTED: cell.text, Holds.DATE: f"the date {cell.text}"}
    return kinds.get(cell.holds, f"'{cell.text}'")
