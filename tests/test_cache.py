"""What is kept only to be quick may be damaged in any way: a run gives what a cold one gives."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from shutil import copytree

import pytest
from books import write_book
from harms import HARMS

from proofgen.artwork.artwork import Made
from proofgen.cache import DamagedError, keep, kept, sealed, unsealed
from proofgen.day import pipeline, rows
from proofgen.proofs import bare, shelf, wood

ROWS = [
    {"order": "C-1", "name": "Ida", "design": "lantern", "year": 2027, "finish": "walnut"},
    {"order": "C-2", "name": "Otto", "design": "wavename"},
]
KEPT = (
    *("stills/*.still", "stills/*.planes", "boards/*"),
    *("measures-*.sqlite", "pieces.sqlite", "thumbnails.sqlite"),
)


@dataclass(frozen=True)
class Season:
    """A book that was proofed with an empty cache, what came of it, and that cache."""

    book: Path
    rows: tuple[Made, ...]
    pictures: dict[str, bytes]
    page: bytes
    cache: Path


def proofed(book: Path, out: Path, folder: Path) -> Season:
    """As a process would that has just started."""
    for each in (shelf.shelved, wood.sheet, bare.bare):
        each.cache_clear()
    rows._open.clear()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PROOFGEN_CACHE", str(folder))
        run = pipeline.proof(book, pipeline.Options(out=out, jobs=1), lambda *_: None)
    pictures = {path.name: path.read_bytes() for path in out.glob("*.png")}
    assert run.contact
    return Season(book, run.rows, pictures, run.contact.read_bytes(), folder)


@pytest.fixture(scope="module")
def cold(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Season]:
    folder = tmp_path_factory.mktemp("season")
    book = write_book(folder / "orders.xlsx", ROWS)
    yield proofed(book, folder / "proofs", folder / "cache")
    rows._open.clear()


@pytest.mark.parametrize("harm", ["cut", "bits"])
def test_a_run_gives_what_a_cold_one_gives(cold: Season, tmp_path: Path, harm: str) -> None:
    """With all files harmed, so that each is asked for: what has to be done anew asks the next."""
    folder, out = tmp_path / "cache", tmp_path / "proofs"
    copytree(cold.cache, folder)
    copytree(cold.book.parent / "proofs", out)
    assert [bool(list(folder.glob(kind))) for kind in KEPT] == [True] * len(KEPT)
    damaged = {file: HARMS[harm](file.read_bytes()) for kind in KEPT for file in folder.glob(kind)}
    for file, data in damaged.items():
        file.write_bytes(data)
    again = proofed(cold.book, out, folder)
    assert [(m.code, m.flags) for m in again.rows] == [(m.code, m.flags) for m in cold.rows]
    assert again.pictures == cold.pictures
    assert again.page == cold.page
    assert [file for file, data in damaged.items() if file.read_bytes() == data] == []


@pytest.mark.parametrize("harm", HARMS)
@pytest.mark.parametrize("mapped", [False, True])
def test_a_file_is_whole_or_gone(tmp_path: Path, harm: str, mapped: bool) -> None:
    file, data = tmp_path / "a" / "file", random.Random(1).randbytes(20_000)
    keep(file, data)
    assert bytes(kept(file, mapped) or b"") == data
    file.write_bytes(HARMS[harm](file.read_bytes()))
    assert kept(file, mapped) is None
    assert not file.exists()
    keep(file, data)
    assert bytes(kept(file, mapped) or b"") == data


def test_what_was_kept_under_another_name_is_no_answer(tmp_path: Path) -> None:
    keep(tmp_path / "walnut", b"brown")
    (tmp_path / "walnut").rename(tmp_path / "natural")
    assert kept(tmp_path / "natural") is None
    assert unsealed("walnut", sealed("walnut", b"brown")) == b"brown"
    other = sealed("natural", b"brown")
    for wrong in (None, 1.5, "brown", b"", b"abc", other, other[:-1]):
        with pytest.raises(DamagedError):
            unsealed("walnut", wrong)
