"""What `check` prints of rows."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from books import lines
from designs_folder import shipped

from proofgen.artwork.artwork import Made
from proofgen.day.pipeline import Run
from proofgen.told.rows import as_json, as_text, designs_as_json


def test_one_long_cell_does_not_push_every_line_apart(tmp_path: Path) -> None:
    long = {"order": "2" * 80, "name": "x" * 130, "design": "boat"}
    read = lines(tmp_path / "o.xlsx", {"order": "T-1", "name": "Ida", "design": "boat"}, long)
    run = Run(tuple(Made(line.order, None, ()) for line in read), ())
    ida, other, _ = as_text(run).splitlines()
    assert max(len(ida), len(other)) < 150
    assert ida.split() == ["row", "2", "T-1", "Ida", "ready"]
    assert other.split()[2:4] == ["2" * 59 + "…", "x" * 59 + "…"]
    assert "2" * 80 in as_json(run)


def test_a_program_reads_the_size_of_the_wood_and_not_of_the_page() -> None:
    designs = shipped()
    told = {d["id"]: d for d in json.loads(designs_as_json(designs.values()))["designs"]}
    assert (told["boat"]["width"], told["boat"]["height"]) == (97.0, pytest.approx(91.1, abs=0.1))
    assert designs["boat"].size == (100.0, 92.0)
    assert told["wavename"]["width"] is None
