"""What `check` prints of rows."""

from __future__ import annotations

from pathlib import Path

from books import lines

from proofgen.artwork.artwork import Made
from proofgen.pipeline import Run
from proofgen.report import as_json, as_text


def test_one_long_cell_does_not_push_every_line_apart(tmp_path: Path) -> None:
    long = {"order": "2" * 80, "name": "x" * 130, "design": "boat"}
    read = lines(tmp_path / "o.xlsx", {"order": "T-1", "name": "Ida", "design": "boat"}, long)
    run = Run(tuple(Made(line.order, None, ()) for line in read), ())
    ida, other, _ = as_text(run).splitlines()
    assert max(len(ida), len(other)) < 150
    assert ida.split() == ["row", "2", "T-1", "Ida", "ready"]
    assert other.split()[2:4] == ["2" * 59 + "…", "x" * 59 + "…"]
    assert "2" * 80 in as_json(run)
