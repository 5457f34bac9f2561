"""How much of a drawing is read, and how much is told of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from designs_folder import HEAD, make, workshop

from proofgen.checks.check import MOST, drawn
from proofgen.designs.drawing import read_drawing
from proofgen.designs.effort import MOST_CROSSINGS, MOST_NODES
from proofgen.designs.read import read_template
from proofgen.errors import UnusableError
from proofgen.flags import about_drawings as kinds
from proofgen.geometry.narrow import narrow_places
from proofgen.geometry.path import Path as Outline, polygon
from proofgen.geometry.tangle import crosses_more


def grid(lines: int) -> Outline:
    """So many lines each way, which cross each other and nothing else, one square after another."""
    across = [polygon(((0, y), (50, y))) for y in range(1, lines + 1)]
    down = [polygon(((x, 0), (x, 50))) for x in range(1, lines + 1)]
    return Outline(tuple(c for path in (*across, *down) for c in path.contours))


def zigzag(nodes: int) -> bytes:
    points = " ".join(f"{1 + i * 78 / nodes:.4f},{10 + 9 * (i % 2)}" for i in range(nodes + 1))
    return f'{HEAD}<polyline id="engrave-line" points="{points}"/></svg>'.encode()


def test_nodes_are_read_up_to_a_limit() -> None:
    (shape,) = read_drawing(zigzag(MOST_NODES), "a.svg").shapes
    assert sum(len(contour.segments) for contour in shape.path.contours) == MOST_NODES
    said = f"a.svg: has {MOST_NODES + 1} nodes; at most {MOST_NODES} are read"
    with pytest.raises(UnusableError, match=said):
        read_drawing(zigzag(MOST_NODES + 1), "a.svg")


def test_crossings_are_counted_both_ways() -> None:
    """Closed lines there and back: each pair of the grid crosses four times."""
    assert not crosses_more(grid(10), 400)
    assert crosses_more(grid(10), 399)
    assert not crosses_more(Outline(), 0)


@pytest.mark.parametrize("rule", ["", 'fill-rule="evenodd"'])
def test_a_tangle_is_refused(rule: str) -> None:
    """A star polygon of n = 91 corners, every 40th joined: n * (40 - 1) crossings."""
    from math import cos, pi, sin

    turns = [2 * pi * 40 * i / 91 for i in range(91)]
    points = " ".join(f"{40 + 20 * cos(t):.4f},{30 + 20 * sin(t):.4f}" for t in turns)
    assert MOST_CROSSINGS < 91 * 39
    text = f'{HEAD}<polygon id="engrave-area.star" {rule} points="{points}"/></svg>'
    with pytest.raises(UnusableError, match=re.escape(f"more than {MOST_CROSSINGS} times")):
        read_drawing(text.encode(), "a.svg")


def test_of_many_findings_the_first_are_told(tmp_path: Path) -> None:
    """Twelve slits of 0.4 mm, and one kind less of which there is but one."""
    slits = "".join(
        f'<rect id="cut-inside.{i}" x="{5 + 3 * i}" y="14" width="0.4" height="8"/>'
        for i in range(12)
    )
    front = f"""{HEAD}<rect id="cut-outside" width="80" height="60"/>{slits}
<circle id="hole" cx="40" cy="1.8" r="1"/>
<polygon id="zone.year" points="20,44 60,44 60,56 20,56"/></svg>"""
    found = drawn(read_template(make(tmp_path / "tag", front=front), workshop()), workshop())
    told = [flag for flag in found if flag.kind is kinds.OPENING_TOO_NARROW]
    more = [flag for flag in found if flag.kind is kinds.FINDINGS_MORE]
    assert [len(told), len(more)] == [MOST, 1]
    assert more[0].where == "front.svg"
    assert kinds.OPENING_TOO_NARROW.id in more[0].says
    assert kinds.DRAWN_HOLE_NEAR_EDGE in [flag.kind for flag in found]


def test_of_a_large_area_one_narrow_place_is_told() -> None:
    """Slits of 60 mm, 1 mm of wood between: 20 of them have 2.4 m of edges, 60 have 7 m."""
    board = polygon(((0, 0), (150, 0), (150, 70), (0, 70)))
    places = []
    for slits in (20, 60):
        cut = [
            polygon(((x, 5), (x + 1, 5), (x + 1, 65), (x, 65))) for x in range(5, 5 + 2 * slits, 2)
        ]
        without = Outline(tuple(c for path in cut for c in path.contours))
        places.append(len(narrow_places(board, without, 1.5)))
    assert places == [6, 1]
