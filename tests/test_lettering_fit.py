"""The fit against brute force: never outside the zone, and as large as anything tried."""

from __future__ import annotations

import random
from functools import partial

import numpy as np
import pytest
import shapely
import zones
from shapely import Polygon

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import join
from proofgen.lettering.bench import Bench
from proofgen.lettering.layout import Layout
from proofgen.lettering.zone import KEEP_INSIDE, Hold
from proofgen.resources import folder

SHAPES = (zones.convex, zones.hollow, zones.star, zones.bent)
A_SHAPE = 50
TEXTS = (
    ("vollkorn", ("Jo",)),
    ("roboto-flex", ("Anneliese",)),
    ("rubik", ("Al &", "Bo")),
    ("dancing-script", ("Pip",)),
    ("frank-ruhl-libre", ("נועה",)),
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    return Bench(Faces(folder("fonts")), MeasureCache(tmp_path_factory.mktemp("cache")))


def laid_out(bench: Bench, face: str, texts: tuple[str, ...]) -> Layout:
    found = bench.faces[face]
    cut = bench.cut(found, found.normal, 1.0)
    return Layout(cut, partial(bench.supports, cut), texts, 0.0, 1.2, "centre")


def held(rng: random.Random, inner: Polygon, layout: Layout) -> Hold:
    """Free; centred about some x; on some baseline; both."""
    at = inner.representative_point()
    centred = at.x + rng.uniform(-2, 2), -sum(layout.ink) / 2
    baseline = at.y + rng.uniform(0, 3), 0.0
    return Hold(rng.choice((None, centred)), rng.choice((None, None, baseline)))


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_largest_size_inside(shape, bench):
    rng = random.Random(f"zones {shape.__name__}")
    done = 0
    while done < A_SHAPE:
        zone = shape(rng)
        inner = shapely.buffer(zone, -KEEP_INSIDE, join_style="mitre")
        if inner.geom_type != "Polygon" or inner.area < 100:
            continue
        layout = laid_out(bench, *TEXTS[done % len(TEXTS)])
        hold = held(rng, inner, layout)
        prepared = bench.zone(tuple(map(tuple, zone.exterior.coords[:-1])))
        size = prepared.largest(layout, hold, 1000.0)
        best = zones.BruteForce(inner, layout, hold).best()
        assert size >= 0.995 * best, (done, zone.wkt, hold)
        if size:
            spot = prepared.place(layout, hold, size, zone.centroid.x)
            assert spot is not None, (done, zone.wkt, hold)
            placed = join(layout.outlines()).moved(Affine.scale(size).then(Affine.shift(*spot)))
            lines = shapely.multilinestrings(
                [shapely.LineString(points) for points in placed.flatten(1e-3)]
            )
            assert zone.covers(lines), (done, zone.wkt, hold)
        done += 1


def test_wanted_size_is_never_passed(bench):
    layout = laid_out(bench, *TEXTS[0])
    box = bench.zone(((0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)))
    assert box.largest(layout, Hold(None, None), 7.0) == 7.0


def test_box_is_filled(bench):
    """Derived: in a box the height or the width of the ink decides."""
    layout = laid_out(bench, *TEXTS[1])
    outline = join(layout.outlines()).bounds()
    box = bench.zone(((0.0, 0.0), (60.0, 0.0), (60.0, 200.0), (0.0, 200.0)))
    room = 60.0 - 2 * KEEP_INSIDE
    size = box.largest(layout, Hold(None, None), np.inf)
    assert size == pytest.approx(room / outline.width, rel=1e-4)
