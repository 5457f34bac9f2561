"""Which contours lie inside which, what straight moves pass over, and where there is room."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path, Points
from proofgen.geometry.polygons import TOLERANCE, to_shapely
from proofgen.geometry.rect import Rect

# mm; a move that goes no deeper into an outline, as where it begins on it, is not over it.
TOUCH = 0.2
# mm; outlines this coarse are good enough to keep off.
COARSE = 0.1
# mm; so far off a line a move from it may be held to have left it.
OFF = 0.05


def depths(contours: Sequence[Contour], tolerance: float = TOLERANCE) -> tuple[int, ...]:
    """Round each contour, the number of other closed ones that are larger; they do not cross."""
    runs = Path(tuple(contours)).flatten(tolerance)
    rings = [i for i, c in enumerate(contours) if c.closed and len(runs[i]) >= 4 and c.degrees]
    found = np.zeros(len(contours), dtype=int)
    if not rings:
        return tuple(found.tolist())
    polygons = shapely.polygons([shapely.linearrings(runs[i]) for i in rings])
    areas = np.zeros(len(contours))
    areas[rings] = shapely.area(polygons)
    spots = shapely.points([_middle_of_chord(run) for run in runs])
    # `within` of a point is `contains` of the polygon: what only touches the border is not inside.
    inner, outer = shapely.STRtree(polygons).query(spots, predicate="within")
    owner = np.array(rings)[outer]
    larger = (areas[owner] > areas[inner]) & (owner != inner)
    np.add.at(found, inner[larger], 1)
    return tuple(found.tolist())


class Obstacles:
    """Outlines that straight moves are to keep off."""

    def __init__(self, outlines: Sequence[Path]) -> None:
        bodies = np.array([to_shapely(each, COARSE) for each in outlines], dtype=object)
        self._bodies = shapely.buffer(shapely.simplify(bodies, COARSE), -TOUCH)

    def __len__(self) -> int:
        return len(self._bodies)

    def some(self, which: Sequence[int]) -> Obstacles:
        """Those of these numbers, in that order."""
        found = Obstacles(())
        found._bodies = self._bodies[list(which)]
        return found

    def passed(self, moves: Points, but: NDArray[np.int64] | None = None) -> NDArray[np.bool_]:
        """Which of the moves (n, 4) pass over which of the m outlines: an array (n, m).

        A move that starts or ends on the border of an outline, or goes no deeper into it than
        0.2 mm, does not pass over it, and none is held to pass over the outline that `but` (n)
        names for it.
        """
        over = np.zeros((len(moves), len(self._bodies)), dtype=bool)
        if over.size:
            lines = shapely.linestrings(moves.reshape(-1, 2, 2))
            # The few bodies ask, since they are prepared for many questions then.
            body, move = shapely.STRtree(lines).query(self._bodies, predicate="intersects")
            over[move, body] = True
            if but is not None:
                over[np.arange(len(moves)), but] = False
        return over


def clearest(
    place: Point,
    reach: float,
    contour: Contour,
    outside: bool,
    others: Sequence[Contour],
    room: Rect,
    kept: Sequence[Rect],
) -> Point | None:
    """A point `reach` mm from a place on a closed contour, as far as can be from every line.

    It lies outside the contour, or inside it; the straight way from it lies in the room, meets
    none of the kept boxes and crosses no line. None where every such point is nearer than 0.7 of
    `reach` to a line.
    """
    turns = np.linspace(0, 2 * np.pi, 64, endpoint=False)
    away = np.column_stack([np.cos(turns), np.sin(turns)])
    spots = np.array(place) + reach * away
    points = shapely.points(spots)
    body = to_shapely(Path((contour,)))
    runs = Path((contour, *others)).flatten(TOLERANCE)
    lines = shapely.multilinestrings([shapely.linestrings(run) for run in runs])
    clear = shapely.distance(points, lines)
    # The way begins on the contour, and is looked at from a little off it.
    begins = np.array(place) + min(OFF, reach / 2) * away
    ways = shapely.linestrings(np.stack([begins, spots], axis=1))
    shut = shapely.union_all([lines, *(_box(each) for each in kept)])
    fine = shapely.covers(_box(room), points) & ~shapely.intersects(shut, ways)
    clear[~fine | (shapely.contains(body, points) == outside)] = 0
    best = int(np.argmax(clear))
    return (float(spots[best, 0]), float(spots[best, 1])) if clear[best] >= 0.7 * reach else None


def _box(rect: Rect) -> shapely.Polygon:
    return shapely.box(rect.left, rect.top, rect.right, rect.bottom)


def _middle_of_chord(run: Points) -> Points:
    """A point of the contour that is none of its corners."""
    return np.asarray((run[0] + run[1]) / 2 if len(run) > 1 else run[0])
