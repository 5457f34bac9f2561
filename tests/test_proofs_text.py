"""Names spelled out under the picture."""

from __future__ import annotations

import numpy as np
import pytest

from proofgen.proofs.spelled import spelled
from proofgen.proofs.type import BOLD, Words, words

SIZE = 40.0


def same(part: Words, whole: Words, first: bool) -> bool:
    """Whether the whole begins (or ends) with the outlines of the part, moved along the line."""
    count = len(part.polygons)
    chosen = whole.polygons[:count] if first else whole.polygons[-count:]
    step = chosen[0][0] - part.polygons[0][0]
    return all(
        len(a) == len(b) and np.allclose(a + step, b)
        for a, b in zip(part.polygons, chosen, strict=True)
    )


def test_letters_stand_apart() -> None:
    letters = [words(c, SIZE, BOLD).width for c in "Ana"]
    assert spelled("Ana", SIZE).width == pytest.approx(sum(letters) + 2 * 0.2 * SIZE)


def test_marks_stay_with_their_letter() -> None:
    assert len(spelled("n\u030ca", SIZE).polygons) == len(words("n\u030c", SIZE).polygons) + len(
        words("a", SIZE).polygons
    )
    assert same(words("n\u030c", SIZE, BOLD), spelled("n\u030ca", SIZE), first=True)


def test_a_space_is_seen_below_the_line() -> None:
    apart, together = spelled("A B", SIZE), spelled("AB", SIZE)
    assert len(apart.polygons) == len(together.polygons) + 1
    mark = apart.polygons[len(words("A", SIZE).polygons)]
    assert 0 < mark[:, 1].max() < 0.2 * SIZE


def test_a_line_break_is_a_mark_at_the_end_of_its_line() -> None:
    for line, ends_right in (("Mary", True), ("שב", False)):
        broken, plain = spelled(f"{line}\n", SIZE), spelled(line, SIZE)
        assert len(broken.polygons) == len(plain.polygons) + 1
        mark = broken.polygons[-1 if ends_right else 0]
        edge = mark[:, 0].max() if ends_right else mark[:, 0].min()
        assert edge == pytest.approx(broken.width if ends_right else 0)
        assert same(plain, broken, first=ends_right)


def test_hebrew_reads_from_the_right() -> None:
    whole = spelled("שב", SIZE)
    assert same(words("ש", SIZE, BOLD), whole, first=False)
    assert same(words("ב", SIZE, BOLD), whole, first=True)


def test_arabic_words_stay_joined_and_read_from_the_right() -> None:
    whole = spelled("محمد علي", SIZE)
    assert same(words("محمد", SIZE, BOLD), whole, first=False)
    assert same(words("علي", SIZE, BOLD), whole, first=True)


@pytest.mark.parametrize("text", ["Ωμέγα", "Юрий", "Nguyễn", "נועה", "ليلى"])
def test_every_script_has_its_letters(text: str) -> None:
    drawn = words(text, SIZE)
    missing = words("\ue000", SIZE)
    assert drawn.width > 0
    assert drawn.polygons
    assert not same(missing, drawn, first=True)
