"""What a buyer was shown is never overwritten by another picture, and says what the book says."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from books import write_book
from PIL import Image

from proofgen.day import pipeline, rows
from proofgen.day.rows import Options
from proofgen.day.superseded import Shown
from proofgen.told.rows import as_text

PAIR: tuple[dict[str, object], ...] = tuple(
    {"order": "K-1", "name": name, "design": "boat", "year": 2027, "quantity": 1}
    for name in ("Ada", "Bo")
)


def proofed(folder: Path, *lines: Mapping[str, object], pdf: bool = True) -> pipeline.Run:
    book = write_book(folder / "orders.xlsx", lines)
    return pipeline.proof(book, Options(pdf=pdf, jobs=1), lambda *_: None)


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.glob("*.p*")}


def said(picture: Path) -> str:
    with Image.open(picture) as image:
        return str(image.info["Proof code"])


def test_set_and_page_of_an_order_that_changed_are_kept_among_the_earlier_ones(
    tmp_path: Path,
) -> None:
    proofs, one, two = tmp_path / "proofs", *PAIR
    proofed(tmp_path, one, two)
    first = files(proofs)
    for name in ("Bob", "Bobby"):
        before = files(proofs)
        run = proofed(tmp_path, one, {**two, "name": name})
        gone = {name for name, data in before.items() if files(proofs).get(name) != data}
        assert {"order-K-1-set.png", "order-K-1.pdf"} < gone
        assert {path.read_bytes() for path in run.earlier} == {before[name] for name in gone}
    earlier = files(proofs / "earlier")
    names = {f"order-K-1{end}" for end in ("-set.png", "-set-01.png", ".pdf", "-01.pdf")}
    assert names < set(earlier)
    assert len(earlier) == len(names) + 2
    assert first.items() & earlier.items() == {
        (name, data) for name, data in first.items() if not name.startswith("Ada")
    }
    assert f"{len(run.earlier)} files of what is no longer asked for" in as_text(run)


def test_what_another_book_shows_under_the_same_number_is_left_and_said(tmp_path: Path) -> None:
    proofs = tmp_path / "proofs"
    others = write_book(tmp_path / "others.xlsx", [{**row, "order": "Ä 1"} for row in PAIR])
    pipeline.proof(others, Options(jobs=1), lambda *_: None)
    theirs = files(proofs)
    one = {**PAIR[0], "order": "Ä 1", "name": "Cy"}
    for name in ("Cy", "Dot"):
        run = proofed(tmp_path, {**one, "name": name}, PAIR[1], pdf=False)
        assert theirs.items() <= files(proofs).items()
        (flag,) = run.flags
        assert flag.kind.id == "order-elsewhere"
        assert f"{proofs / 'others-contact.html'}, the contact sheet of another book" in flag.text
        assert "shows order Ä 1 too" in flag.text
    assert [path.name[:2] for path in run.earlier] == ["Cy"]
    (proofs / "others-contact.html").unlink()
    assert proofed(tmp_path, one, PAIR[1], pdf=False).flags == ()
    assert not theirs.keys() & files(proofs).keys()


def test_nothing_is_moved_or_written_where_nothing_changed(tmp_path: Path) -> None:
    proofed(tmp_path, *PAIR)
    proofs = tmp_path / "proofs"
    before = {path: path.stat().st_mtime_ns for path in proofs.glob("*.p*")}
    run = proofed(tmp_path, *PAIR)
    assert run.earlier == ()
    assert not (proofs / "earlier").exists()
    assert {path: path.stat().st_mtime_ns for path in before} == before


def test_a_picture_of_one_piece_that_is_drawn_otherwise_is_kept_too(tmp_path: Path) -> None:
    proofed(tmp_path, PAIR[0], pdf=False)
    (before,) = files(tmp_path / "proofs").items()
    workshop = tmp_path / "workshop.toml"
    workshop.write_text("format = 1\n[proofs]\nwatermark = false\n", encoding="utf-8")
    rows._open.clear()
    run = proofed(tmp_path, PAIR[0], pdf=False)
    assert [(path.name, path.read_bytes()) for path in run.earlier] == [before]
    assert files(tmp_path / "proofs")[before[0]] != before[1]


@pytest.mark.parametrize("approved", [False, True])
def test_another_quantity_is_drawn_anew(tmp_path: Path, approved: bool) -> None:
    """Also after approval, which another quantity does not undo; and back again."""
    one, two = PAIR
    first = proofed(tmp_path, one, two)
    picture = first.pictures[2]
    known = [made.code for made in first.rows]
    shown = files(tmp_path / "proofs")
    if approved:
        one, two = {**one, "approved": known[0]}, {**two, "approved": known[1]}
        assert proofed(tmp_path, one, two).earlier == ()
    run = proofed(tmp_path, {**one, "quantity": 3}, two)
    assert [made.code for made in run.rows] == known
    assert [flag.kind.id for flag in run.rows[0].flags] == ["quantity-changed"] * approved
    assert run.pictures[2] == picture
    assert said(picture) == f"{known[0]} x 3"
    assert said(tmp_path / "proofs" / "order-K-1-set.png") == f"{known[0]} x 3, {known[1]}"
    assert {path.name: path.read_bytes() for path in run.earlier} == (
        {name: shown[name] for name in (picture.name, "order-K-1-set.png", "order-K-1.pdf")}
    )
    back = proofed(tmp_path, one, two)
    assert said(picture) == known[0]
    assert files(tmp_path / "proofs") == shown
    assert {path.name for path in back.earlier} == {
        f"{path.stem}-01{path.suffix}" for path in run.earlier
    }


def test_a_picture_that_was_cut_off_is_drawn_again_after_approval(tmp_path: Path) -> None:
    run = proofed(tmp_path, PAIR[0])
    whole = run.pictures[2].read_bytes()
    run.pictures[2].write_bytes(whole[:9000])
    proofed(tmp_path, {**PAIR[0], "approved": run.rows[0].code})
    assert run.pictures[2].read_bytes() == whole


def test_the_same_file_is_kept_once(tmp_path: Path) -> None:
    folder, path = Shown(tmp_path), tmp_path / "a.png"
    for data in (b"one", b"two", b"one", b"one", b"two"):
        folder.write([(path, data)])
    assert files(tmp_path / "earlier") == {"a.png": b"one", "a-01.png": b"two"}
    assert [each.name for each in folder.earlier] == ["a.png", "a-01.png", "a.png"]
    assert path.read_bytes() == b"two"


def stained(folder: Path, colour: str) -> None:
    text = f'format = 1\n[finishes.dusk]\ntitle = "Dusk"\nwhen = "before"\nstain = "{colour}"\n'
    (folder / "workshop.toml").write_text(text, encoding="utf-8")
    rows._open.clear()


def test_after_a_run_that_was_stopped_set_and_page_get_the_new_look_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped when all single pictures are drawn anew, and nothing else is."""
    lines = [{**row, "finish": "dusk"} for row in PAIR]
    stained(tmp_path, "#2f5d62")
    proofed(tmp_path, *lines)
    before = files(tmp_path / "proofs")

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    stained(tmp_path, "#7a1f1f")
    with monkeypatch.context() as patch, pytest.raises(KeyboardInterrupt):
        patch.setattr(pipeline, "write_sets", stopped)
        proofed(tmp_path, *lines)
    run = proofed(tmp_path, *lines, pdf=False)
    assert {path.name for path in run.earlier} == {"order-K-1-set.png", "order-K-1.pdf"}
    shown = proofed(tmp_path, *lines).pages[0].parent
    assert not before.items() & files(shown).items()
    stained(tmp_path, "#2f5d62")
    proofed(tmp_path, *lines)
    assert files(shown) == before


def test_pages_stand_where_only_the_cache_is_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "one"))
    proofed(tmp_path, *PAIR)
    before = files(tmp_path / "proofs")
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "two"))
    assert proofed(tmp_path, *PAIR, pdf=False).earlier == ()
    assert files(tmp_path / "proofs") == before


def test_of_an_approved_piece_it_is_said_that_its_finish_was_recoloured(tmp_path: Path) -> None:
    """Once another number has it drawn anew, its picture has colours that the buyer never saw."""
    lines = [{**row, "finish": "dusk"} for row in PAIR]
    stained(tmp_path, "#2f5d62")
    codes = [made.code for made in proofed(tmp_path, *lines).rows]
    lines = [{**row, "approved": code} for row, code in zip(lines, codes, strict=True)]
    assert [made.flags for made in proofed(tmp_path, *lines).rows] == [(), ()]
    stained(tmp_path, "#7a1f1f")
    for made in proofed(tmp_path, lines[0], {**lines[1], "quantity": 2}).rows:
        flag = made.flags[-1]
        assert (flag.kind.id, made.verdict) == ("finish-recoloured", "look")
        assert f"Dusk has other colours now than when the buyer approved {made.code}" in flag.text
