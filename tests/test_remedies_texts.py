"""Shorter texts that still say part of what was typed."""

from __future__ import annotations

import pytest

from proofgen.remedies.shorter import abbreviated, beginnings, longest, shortened, without


def test_a_character_is_left_out_where_it_stands():
    assert without("Zoë 星\n星\nby  the 星 sea", "星") == "Zoë\nby the sea"


def test_the_longest_beginning_is_found_by_halving():
    parts = beginnings("a b-c d e f g h i j k l m n o p q")
    assert parts[:4] == ["a", "a b", "a b-c", "a b-c d"]
    asked: list[str] = []

    def fits(part: str) -> bool:
        asked.append(part)
        return len(part) <= len("a b-c d e f")

    assert longest(parts, fits) == "a b-c d e f"
    assert len(asked) <= 5 < len(parts)


def test_a_beginning_that_fits_though_shorter_ones_do_not_is_found():
    assert longest(["a", "a b", "a b c", "a b c d"], lambda part: part == "a b") == "a b"
    assert longest(["a", "a b"], lambda _: False) == ""


@pytest.mark.parametrize(
    ("text", "most", "kept"),
    [
        ("For Ann from Joe in May", 19, "For Ann from Joe"),
        ("Gone fishing, ever jolly and quiet", 20, "Gone fishing"),
        ("Hi, Grandma Wilhelmina and Grandpa", 22, "Hi, Grandma Wilhelmina"),
        ("To St. Mary's of the harbour in June", 13, "To St. Mary's"),
        ("For Ann with love\nfrom all of us at sea", 27, "For Ann with love"),
        ("in the on", 6, "in the"),
    ],
)
def test_a_text_is_cut_where_it_still_means_something(text, most, kept):
    assert shortened(text, lambda part: len(part) <= most) == kept


def test_abbreviating_says_which_words_are_gone():
    assert list(abbreviated("Ann Maria Louise Smith")) == [
        ("Ann S.", "Maria Louise"),
        ("A. Smith", "Maria Louise"),
        ("A.", "Maria Louise Smith"),
    ]
    assert next(abbreviated("Grandma Ann & Grandpa Joe")) == ("Grandma A. & Grandpa J.", "")
    assert list(abbreviated("Wilhelmina")) == [("W.", "")]
