"""Small pictures are made once, whoever asks for them."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from books import write_book
from PIL import Image

from proofgen.day import pipeline
from proofgen.results import thumbnail
from proofgen.results.thumbnail import CARD, CELL, COPY, FILE, Thumbnails


def picture(path: Path, red: int) -> Path:
    Image.new("RGB", (1080, 1350), (red, 90, 60)).save(path)
    return path


def size(data: bytes) -> tuple[int, int]:
    with Image.open(io.BytesIO(data)) as image:
        return image.size


def test_a_picture_is_made_small_once_and_again_when_it_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[thumbnail.Kind] = []
    small = thumbnail.small
    monkeypatch.setattr(thumbnail, "small", lambda p, kinds: made.extend(kinds) or small(p, kinds))
    path = picture(tmp_path / "a.png", 200)
    first = Thumbnails(tmp_path / "cache").of(path, CARD)
    assert size(first) == (240, 300)
    assert Thumbnails(tmp_path / "cache").of(path, CARD) == first
    assert made == [CARD]
    assert size(Thumbnails(tmp_path / "cache").of(path, CELL)) == (92, 115)
    picture(path, 40)
    assert Thumbnails(tmp_path / "cache").of(path, CARD) != first
    assert made == [CARD, CELL, CARD]


def test_the_oldest_go_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(thumbnail, "MOST", 3)
    kept = Thumbnails(tmp_path)
    for red in range(5):
        kept.of(picture(tmp_path / f"{red}.png", red), CELL)
    monkeypatch.setattr(thumbnail, "small", lambda _p, _kinds: {})
    assert [bool(kept.of(tmp_path / f"{red}.png", CELL)) for red in range(5)] == (
        [False, False, True, True, True]
    )


@pytest.mark.parametrize("harm", ["not a database", "no folder"])
def test_a_cache_that_cannot_be_used_is_done_without(tmp_path: Path, harm: str) -> None:
    folder = tmp_path / "cache"
    if harm == "no folder":
        folder.write_text("a file")
    else:
        folder.mkdir()
        (folder / FILE).write_bytes(b"x" * 5000)
    path = picture(tmp_path / "a.png", 200)
    assert size(Thumbnails(folder).of(path, COPY)) == (1080, 1350)


def test_what_is_no_picture_has_none(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(b"no picture")
    kept = Thumbnails(tmp_path)
    assert kept.of(tmp_path / "a.png", CARD) == kept.of(tmp_path / "b.png", CARD) == b""


def test_page_and_workbook_show_what_was_made_beside_the_drawing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where rows are drawn by several processes, making small is theirs as well."""
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    rows = [{"order": f"T-{n}", "name": "Ida", "year": 2027, "design": "boat"} for n in range(3)]
    book = write_book(tmp_path / "orders.xlsx", rows)
    pictures: list[int] = []
    small = thumbnail.small
    monkeypatch.setattr(
        thumbnail, "small", lambda p, kinds: pictures.append(len(list(kinds))) or small(p, kinds)
    )
    told: list[tuple[int, int]] = []
    for _ in range(2):
        told.clear()
        pipeline.proof(book, pipeline.Options(jobs=1), lambda d, t: told.append((d, t)))
        assert pictures == [3, 3, 3]
    # Rows, workbook and page.
    assert told == [(1, 3), (2, 3), (3, 3)] * 3
