"""Writing a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from proofgen.errors import UnusableError
from proofgen.files import write_all, write_bytes


def test_folders_are_made_and_nothing_else_is_left(tmp_path: Path) -> None:
    target = tmp_path / "a" / "b" / "piece.svg"
    write_bytes(target, b"one")
    write_bytes(target, b"two")
    assert target.read_bytes() == b"two"
    assert [path.name for path in target.parent.iterdir()] == ["piece.svg"]


@pytest.mark.parametrize(
    ("error", "says"),
    [(PermissionError(13, "Permission denied"), "open elsewhere"), (OSError(28, "full"), "full")],
)
def test_a_failure_keeps_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError, says: str
) -> None:
    target = tmp_path / "results.xlsx"
    target.write_bytes(b"old")

    def refuse(*_: object) -> None:
        raise error

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(UnusableError, match=says) as caught:
        write_bytes(target, b"new")
    assert str(target) in str(caught.value)
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_a_file_where_a_folder_should_be_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(UnusableError, match="cannot be written"):
        write_bytes(tmp_path / "out" / "piece.svg", b"new")


def test_of_many_files_one_that_cannot_be_written_is_named_and_the_others_are_there(
    tmp_path: Path,
) -> None:
    (tmp_path / "3").mkdir()
    with pytest.raises(UnusableError, match=f"{tmp_path / '3'} cannot be written"):
        write_all((tmp_path / f"{number}", b"new") for number in range(20))
    written = [path for path in tmp_path.iterdir() if path.is_file()]
    assert sorted(int(path.name) for path in written) == [0, 1, 2, *range(4, 20)]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
def test_the_mode_of_a_replaced_file_is_kept(tmp_path: Path) -> None:
    target = tmp_path / "results.xlsx"
    target.write_bytes(b"old")
    target.chmod(0o640)
    write_bytes(target, b"new")
    assert target.stat().st_mode & 0o777 == 0o640
