"""Damaged face files are named, and never taken for blank letters."""

from __future__ import annotations

import pytest

from proofgen.errors import UnusableError
from proofgen.faces.face import Face
from proofgen.resources import folder

TABLE = {"id": "pacifico", "title": "Pacifico"}


@pytest.mark.parametrize("share", [0.0, 0.01, 0.1, 0.5, 0.9, 0.999])
def test_a_file_cut_short(share, tmp_path):
    whole = (folder("fonts") / "Pacifico-Regular.ttf").read_bytes()
    file = tmp_path / "short.ttf"
    file.write_bytes(whole[: int(len(whole) * share)])
    with pytest.raises(UnusableError, match=r"short\.ttf is damaged"):
        Face(file, TABLE)


def test_the_faces_that_ship_are_whole():
    for file in folder("fonts").glob("*.ttf"):
        Face(file, TABLE)
