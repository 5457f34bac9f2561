"""What is said under the piece, word by word; a text is equal to itself alone, set twice or not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from proof_pieces import lantern

from proofgen.artwork.artwork import Made
from proofgen.proofs.caption import DETAIL, FOOT, NAMES, Row, caption, measures, rows
from proofgen.proofs.spelled import new_line, spelled
from proofgen.proofs.type import BOLD, REGULAR, Words, words


def told(made: Made) -> tuple[Row, ...]:
    assert made.artwork is not None
    return rows(made, made.artwork, inches=False)


def said(made: Made) -> list[Words]:
    return [part.words for row in told(made) for part in (*row.left, *row.right)]


def test_a_line_break_in_a_text_is_a_mark_and_no_slash() -> None:
    broken = said(lantern(inscription="Calm\nrough"))
    slashed = said(lantern(inscription="Calm / rough"))
    at = broken.index(words("Calm", DETAIL, BOLD))
    assert broken[at : at + 3] == [
        words("Calm", DETAIL, BOLD),
        new_line(DETAIL),
        words("rough", DETAIL, BOLD),
    ]
    assert words("Calm / rough", DETAIL, BOLD) in slashed
    assert new_line(DETAIL) not in slashed


def test_how_many_there_are_stands_by_the_size_and_by_no_text() -> None:
    made = lantern(quantity=3)
    assert made.artwork is not None
    *_, foot = told(made)
    assert [part.words for part in foot.left] == [
        words(measures(made.artwork.extent, inches=False), FOOT, REGULAR),
        words("3 pieces", FOOT, BOLD),
    ]
    assert told(made)[:-1] == told(lantern())[:-1]
    assert len(told(lantern())[-1].left) == 1


def test_a_space_at_which_a_name_is_broken_is_seen() -> None:
    broken = said(lantern("Friends of the Harbour Lights and all of us"))
    typed = said(lantern("Friends of the Harbour\nLights and all of us"))
    ends = spelled("Friends of the Harbour ", NAMES), spelled("Friends of the Harbour\n", NAMES)
    assert [(end in broken, end in typed) for end in ends] == [(True, False), (False, True)]
    assert spelled("Lights and all of us", NAMES) in broken


@pytest.mark.parametrize(
    ("typed", "lines"),
    [
        ("Mia\nTom", ("Mia\n", "Tom")),
        ("Mia Tom", ("Mia ", "Tom")),
        ("Mia Tom\nEla-Su", ("Mia ", "Tom\n", "Ela-", "Su")),
        ("Ida\nTom", ("Mia\n", "Tom")),
    ],
)
def test_what_was_typed_where_a_line_of_a_name_ends_is_seen(
    typed: str, lines: tuple[str, ...]
) -> None:
    """Also where it was typed on one line; a row that has another name by now tells nothing."""
    made = lantern("\n".join(line.strip() for line in lines))
    assert made.artwork is not None
    order = replace(made.order, fields=(("name", typed),))
    found = told(replace(made, order=order, artwork=replace(made.artwork, order=order)))
    assert [row.left[0].words for row in found[1 : len(lines) + 1]] == [
        spelled(line, NAMES) for line in lines
    ]


LONG = "Fair winds and following seas to all who sail in her"


@pytest.mark.parametrize(
    ("name", "inscription", "count"),
    [("Ann", "", 4), ("Mary\nAnn", "", 5), ("Mary\nAnn", LONG, 6), ("A\nB", f"{LONG}\n" * 3, 7)],
)
def test_rows_keep_off_the_rule_and_the_edge(name: str, inscription: str, count: int) -> None:
    made = lantern(name, inscription)
    assert made.artwork is not None
    assert len(told(made)) == count
    strip = caption(made, made.artwork, inches=False)[3:]  # below the rule
    written = np.flatnonzero(strip.any(axis=1))
    assert written[0] >= 16
    assert len(strip) - 1 - written[-1] >= 14
