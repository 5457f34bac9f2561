"""How pieces share a picture: in rows, as many and as high as let all of them be largest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import inf

from proofgen.proofs.labels import Exhibit, Label, labels
from proofgen.proofs.raster import Box
from proofgen.proofs.stage import HEIGHT, TOP, WIDTH, Stage, beside, stage

TITLE, FOOT = 112, 64  # px, heights of the strips
ROOM = HEIGHT - TITLE - FOOT
UNDER = 26  # between a piece and what is said of it
STRAND = 60  # above a piece that hangs
MOST_BENEATH = 30  # a label, of what is to spare
COLUMNS = 4  # more would leave labels no room


@dataclass(frozen=True)
class Grid:
    """As many cells as labels: `rows` of so many pieces, of these `heights`; pixels a millimetre of
    each piece, what is free above it, and `beneath` every label.
    """

    rows: tuple[int, ...]
    heights: tuple[int, ...]
    labels: tuple[Label, ...]
    scales: tuple[float, ...]
    above: tuple[int, ...]
    beneath: int

    @cached_property
    def _cells(self) -> tuple[Box, ...]:
        tops = accumulate(self.heights, initial=TITLE)
        return tuple(
            (slice(top, top + height), slice(left, left + WIDTH // count))
            for top, height, count in zip(tops, self.heights, self.rows, strict=False)
            for left in range(0, WIDTH - WIDTH // count + 1, WIDTH // count)
        )

    def cell(self, number: int) -> Box:
        """Rows and columns of the picture."""
        return self._cells[number]

    def label(self, number: int) -> Box:
        """Where in the picture the label of that piece is."""
        down, across = self.cell(number)
        bottom = down.stop - self.beneath
        return slice(bottom - self._under(number), bottom), across

    def _under(self, number: int) -> int:
        """The height of the tallest label in the row of that piece."""
        ends = list(accumulate(self.rows, initial=0))
        row = next(i for i, end in enumerate(ends[1:]) if number < end)
        return max(label.height for label in self.labels[ends[row] : ends[row + 1]])

    def place(self, number: int, exhibit: Exhibit) -> Stage:
        """Where a piece stands in its cell."""
        down, across = self.cell(number)
        shape = down.stop - down.start, across.stop - across.start
        hung = exhibit.scene.hanger is not None
        below = self._under(number) + UNDER + self.beneath
        return stage(
            exhibit.scene.size, hung, shape, self.scales[number], below, self.above[number]
        )


def arranged(exhibits: Sequence[Exhibit], alike: bool, most: float = inf) -> Grid:
    """The rows that let pieces be largest: all at one scale where they are `alike`, but at no more
    than `most` pixels a millimetre, else each as large as the others to the eye, which is by area.
    """
    sized = [labels(exhibits, WIDTH // columns) for columns in range(1, COLUMNS + 1)]
    shares = [1.0 if alike else _area(each) ** -0.5 for each in exhibits]
    best: tuple[int, ...] = ()
    size = 0.0
    for rows in _rows(len(exhibits)):
        found = _largest(exhibits, rows, sized[max(rows) - 1], shares)
        if found > size:
            best, size = rows, found
    if alike:
        size = min(size, most)
    said = sized[max(best) - 1]
    wanted = _heights(exhibits, best, said, [size * share for share in shares])
    spare = int(max(ROOM - sum(wanted), 0.0)) // len(best)
    above = tuple(STRAND if each.scene.hanger else TOP for each in exhibits)
    scales = tuple(size * share for share in shares)
    heights = tuple(int(high) + spare for high in wanted)
    return Grid(best, heights, said, scales, above, min(spare // 3, MOST_BENEATH))


def _area(exhibit: Exhibit) -> float:
    width, height = exhibit.scene.size
    return width * height


def _rows(count: int) -> Iterator[tuple[int, ...]]:
    """All ways to share so many out, the fewest rows first where they are as good."""
    if count == 0:
        yield ()
    for first in range(min(count, COLUMNS), 0, -1):
        yield from ((first, *rest) for rest in _rows(count - first))


def _largest(
    exhibits: Sequence[Exhibit],
    rows: tuple[int, ...],
    said: Sequence[Label],
    shares: Sequence[float],
) -> float:
    """What the shares may be multiplied by to give scales."""
    columns = [count for count in rows for _ in range(count)]
    wide = min(
        (WIDTH // count - 2 * beside(WIDTH // count)) / (each.scene.size[0] * share)
        for each, count, share in zip(exhibits, columns, shares, strict=True)
    )
    # Heights grow evenly with the scales.
    none = sum(_heights(exhibits, rows, said, [0.0] * len(exhibits)))
    by_one = sum(_heights(exhibits, rows, said, shares)) - none
    return min(wide, (ROOM - none) / by_one)


def _heights(
    exhibits: Sequence[Exhibit],
    rows: tuple[int, ...],
    said: Sequence[Label],
    scales: Sequence[float],
) -> list[float]:
    """Of each row: what is free above, its highest piece, and its tallest label."""
    found = []
    pieces = list(zip(exhibits, said, scales, strict=True))
    for end, count in zip(accumulate(rows), rows, strict=True):
        row = pieces[end - count : end]
        above = max(STRAND if each.scene.hanger else TOP for each, _, _ in row)
        high = max(each.scene.size[1] * scale for each, _, scale in row)
        found.append(above + high + UNDER + max(label.height for _, label, _ in row))
    return found
