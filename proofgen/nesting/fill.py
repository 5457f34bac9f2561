"""Boards filled one after the other, each as full as the engine can make it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf

from proofgen.nesting.corner import corner_fill
from proofgen.nesting.engine import Effort, available, strip
from proofgen.nesting.part import Board, Filled, Layout, Part, Placed
from proofgen.nesting.shape import Shape, area_of, fits_alone, in_proportion, mix_of, shape_of
from proofgen.nesting.verify import faults

Progress = Callable[[int, int], None]

# Of the usable area: no board is tried with more, and most take about so much.
MOST, USUAL = 0.88, 0.66

Placing = tuple[tuple[Shape, Placed], ...]


def nest(
    parts: Sequence[Part],
    remainders: Sequence[Board],
    sheet: Board,
    effort: Effort,
    progress: Progress,
) -> Layout:
    """The parts on remainders, the smallest first, and then on as many sheets as it takes.

    Of all turns that the parts allow, the fewest are used that reach the fewest boards: none, then
    half turns, then all. `progress` is told (parts laid, parts). An interruption leaves the search;
    what is not laid by then is laid plainly. RuntimeError where a layout fails its own check, which
    would be a mistake of ours.
    """
    boards = sorted(remainders, key=lambda board: board.usable)
    whole = in_proportion(parts)
    possible = [
        part for part in whole if any(fits_alone(shape_of(part), b) for b in (*boards, sheet))
    ]
    left = tuple(part.key for part in whole if part not in possible)
    filler = _Filler(boards, sheet, effort, progress)
    best: tuple[Filled, ...] | None = None
    for turned in reversed(_classes(possible)):
        if any(not _fits_some(part, boards, sheet) for part in turned):
            continue
        found = filler.fill(turned, len(best) if best is not None else inf)
        if found is None:
            break
        best = found
    layout = Layout(best or (), left)
    wrong = faults(layout, parts)
    if wrong:
        raise RuntimeError(f"a layout is wrong: {wrong[0]}")
    return layout


def _fits_some(part: Part, boards: Sequence[Board], sheet: Board) -> bool:
    return any(fits_alone(shape_of(part), board) for board in (*boards, sheet))


def _classes(parts: Sequence[Part]) -> list[list[Part]]:
    """The parts with ever more turns: none, half turns, all that they allow."""
    found: list[list[Part]] = []
    for allowed in ({0.0}, {0.0, 180.0}, None):
        turned = [_limited(part, allowed) for part in parts]
        if not found or turned != found[-1]:
            found.append(turned)
    return found


def _limited(part: Part, allowed: set[float] | None) -> Part:
    if allowed is None:
        return part
    turns = tuple(turn for turn in part.turns if turn in allowed)
    return replace(part, turns=turns or part.turns[:1])


class _Filler:
    """Fills boards, and remembers which mixes of shapes fit on which board."""

    def __init__(
        self, boards: Sequence[Board], sheet: Board, effort: Effort, progress: Progress
    ) -> None:
        self._boards, self._sheet = boards, sheet
        self._effort, self._progress = effort, progress
        self._known: dict[object, Placing | None] = {}
        self._engine = available()

    def fill(self, parts: Sequence[Part], fewest: float) -> tuple[Filled, ...] | None:
        """The boards in order; None as soon as more than `fewest` would be needed."""
        left, total = list(parts), len(parts)
        found: list[Filled] = []
        boards = list(self._boards)
        while left:
            board = boards.pop(0) if boards else self._sheet
            placed = self._filled(left, board)
            if not placed:
                continue
            found.append(Filled(board, placed))
            if len(found) > fewest or (len(found) == fewest and len(placed) < len(left)):
                return None
            laid = {each.key for each in placed}
            left = [part for part in left if part.key not in laid]
            self._progress(total - len(left), total)
        return tuple(found)

    def _filled(self, parts: Sequence[Part], board: Board) -> tuple[Placed, ...]:
        """As many of the first parts as are found to fit, none where none does."""
        parts = [part for part in parts if fits_alone(shape_of(part), board)]
        plain = corner_fill(parts, board) if parts else ()
        if not self._engine or board.keep_out or not parts:
            return plain
        try:
            best = self._most(parts, board, len(plain))
        except KeyboardInterrupt:
            self._engine = False
            return plain
        return best if len(best) >= len(plain) else plain

    def _most(self, parts: Sequence[Part], board: Board, least: int) -> tuple[Placed, ...]:
        """The engine's best: more and more parts until they do not fit, or fewer until they do."""
        most = _within(parts, board.usable * MOST)
        count = min(max(_within(parts, board.usable * USUAL), least, 1), most)
        best: tuple[Placed, ...] = ()
        while 0 < count <= most:
            found = self._try(parts[:count], board)
            if found:
                best = found
                count += 1
            elif best or count <= least:
                break
            else:
                count -= 1
        return best

    def _try(self, parts: Sequence[Part], board: Board) -> tuple[Placed, ...]:
        """These parts on the board by the engine; none where it finds no way."""
        mix = mix_of(parts)
        key = (board.width, board.height, board.margin, board.gap, frozenset(mix.items()))
        if key not in self._known:
            found = strip(mix, board, self._effort, board.width)
            self._known[key] = found[0] if found and found[1] <= board.width else None
        return _named(parts, self._known[key] or ())


def _within(parts: Sequence[Part], area: float) -> int:
    """How many of the first parts have that area together."""
    total = 0.0
    for count, part in enumerate(parts):
        total += area_of(shape_of(part))
        if total > area:
            return count
    return len(parts)


def _named(parts: Sequence[Part], placing: Placing) -> tuple[Placed, ...]:
    """What was placed by shape, with the keys of the parts."""
    waiting: dict[Shape, list[Part]] = {}
    for part in parts:
        waiting.setdefault(shape_of(part), []).append(part)
    return tuple(replace(placed, key=waiting[shape].pop(0).key) for shape, placed in placing)
