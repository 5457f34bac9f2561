"""Pictures of the designs and finishes that ship, as rows of a book get them."""

from __future__ import annotations

import io
from itertools import cycle
from statistics import mean

import numpy as np
import pytest
from PIL import Image
from proof_pieces import shipped, shop

from proofgen.artwork.artwork import Artwork, Made
from proofgen.geometry.polygons import area
from proofgen.proofs.engraving import clean
from proofgen.proofs.layers import bodies
from proofgen.proofs.lettered import masks
from proofgen.proofs.picture import proof_png
from proofgen.proofs.scene import parted, scene
from proofgen.proofs.soft import amounts
from proofgen.proofs.stage import SCENE, stage
from proofgen.proofs.still import still
from proofgen.proofs.view import view

FINISHES = cycle(("natural", "walnut", "burgundy", "weathered"))
PIECES = [
    (design, next(f for f in FINISHES if f in template.finishes or not template.finishes))
    for design, template in shop().templates.items()
]


def piece(made: Made) -> Artwork:
    assert made.artwork is not None
    return made.artwork


def test_no_file_is_large() -> None:
    sizes = [len(proof_png(shipped(*each, "Odalys"), shop().workshop)) for each in PIECES]
    assert len(sizes) == 6
    assert {finish for _, finish in PIECES} == {"natural", "walnut", "burgundy", "weathered"}
    assert max(sizes) < 500_000
    assert mean(sizes) < 350_000


def test_letters_that_are_cut_have_their_exact_area() -> None:
    made = shipped("wavename", "walnut", "Odalys")
    place = stage(piece(made).size, False)
    layers = piece(made).layers
    for layer, body in zip(layers, bodies(layers, place), strict=True):
        outside, inside = (
            sum(area(clean(mark), 1e-4) for mark in layer.marks if mark.operation == cut)
            for cut in ("cut-outside", "cut-inside")
        )
        drawn = amounts(body).sum(dtype=np.float64) / place.scale**2
        assert drawn == pytest.approx(outside - inside, rel=5e-3)


@pytest.mark.parametrize(("design", "finish"), PIECES)
def test_rows_are_lettered_with_their_exact_area(design: str, finish: str) -> None:
    made = shipped(design, finish, "Odalys")
    found = parted(piece(made), shop().workshop)
    place = stage(piece(made).size, piece(made).hanger != "none")
    for marks in found.own:
        exact = sum(area(mark.path, 1e-4) for mark in marks) * place.scale**2
        drawn = sum(float(amounts(mask).sum(dtype=np.float64)) for _, mask in masks(marks, place))
        assert drawn == pytest.approx(exact, rel=5e-3)


@pytest.mark.parametrize("name", ["Odalys", "Peggy"])
def test_a_piece_painted_where_it_is_looks_as_all_coats_would(name: str) -> None:
    made = shipped("wavename", "walnut", name)
    seen = scene(piece(made), shop().workshop)
    base = still(view(seen, stage(seen.size, False)), ())
    wanted = base.palette[base.index].astype(np.float64)
    with Image.open(io.BytesIO(proof_png(made, shop().workshop))) as image:
        shown = np.asarray(image.convert("RGB"), np.float64)[:SCENE]
    # Each is within some steps of its own 256 colours; a lost coat would be 30 and more.
    assert np.abs(shown - wanted).mean() < 2
    assert np.quantile(np.abs(shown - wanted).max(axis=2), 0.999) < 24
