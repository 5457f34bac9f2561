"""Reading the sizes of boards."""

from __future__ import annotations

from proofgen import config
from proofgen.errors import UnusableError
from proofgen.workshop.boards import BoardSize, Box

KEYS = tuple(BoardSize.__dataclass_fields__)
_MOST = 3000.0  # mm


def board_size(table: config.Table, place: str) -> BoardSize:
    """The table of a board; UnusableError where nothing would fit on it."""
    config.check_keys(table, KEYS, place)
    width = config.number(table, "width", place, least=10, most=_MOST)
    height = config.number(table, "height", place, least=10, most=_MOST)
    margin = config.number(table, "margin", place, least=0, most=min(width, height) / 2 - 1)
    least = _numbers(table["least"], 2, f"{place}, least")
    return BoardSize(
        width=width,
        height=height,
        margin=margin,
        gap=config.number(table, "gap", place, least=0.2, most=100),
        keep_out=tuple(_box(each, width, height, place) for each in _list(table, place)),
        least=(min(least), max(least)),
    )


def refuse_narrow(board: BoardSize, kerf: float, place: str) -> None:
    """UnusableError where cuts that are moved outwards by half the kerf would meet, or leave the
    board.
    """
    if board.gap <= kerf:
        raise UnusableError(
            f"{place}, gap: {board.gap:g} mm, and with compensate = true the cuts of neighbours "
            f"come nearer by the kerf of {kerf:g} mm; give more than {kerf:g}, or "
            "compensate = false."
        )
    if board.margin < kerf / 2:
        raise UnusableError(
            f"{place}, margin: {board.margin:g} mm, and with compensate = true cuts move out by "
            f"half the kerf; give {kerf / 2:g} or more, or compensate = false."
        )


def _list(table: config.Table, place: str) -> list[object]:
    found = table["keep_out"]
    if not isinstance(found, list):
        raise UnusableError(f"{place}, keep_out: give a list of [left, top, width, height].")
    return found


def _box(said: object, width: float, height: float, place: str) -> Box:
    left, top, wide, high = _numbers(said, 4, f"{place}, keep_out")
    if wide <= 0 or high <= 0 or left + wide > width or top + high > height:
        raise UnusableError(f"{place}, keep_out: {said} does not lie on {width:g} x {height:g} mm.")
    return left, top, wide, high


def _numbers(said: object, count: int, place: str) -> list[float]:
    numbers = said if isinstance(said, list) else []
    right = all(isinstance(n, int | float) and not isinstance(n, bool) and n >= 0 for n in numbers)
    if len(numbers) != count or not right:
        raise UnusableError(
            f"{place}: give {count} lengths in millimetres, none below 0, not {said!r}."
        )
    return [float(number) for number in numbers]
