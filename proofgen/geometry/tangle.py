"""How often drawn lines cross, counted no further than anyone asks."""

from __future__ import annotations

import numpy as np
import shapely

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE

AT_ONCE = 64  # lines that are looked at together, so that the count can end early


def crosses_more(path: Path, often: int) -> bool:
    """Whether lines of the path cross themselves or each other more than so many times."""
    chords = [np.stack([run[:-1], run[1:]], axis=1) for run in path.flatten(TOLERANCE)]
    if not chords:
        return False
    lines = shapely.linestrings(np.concatenate(chords))
    tree = shapely.STRtree(lines)
    found = 0
    for first in range(0, len(lines), AT_ONCE):
        some = lines[first : first + AT_ONCE]
        found += tree.query(some, predicate="crosses").shape[1]
        # Each crossing is found from both of its lines.
        if found > 2 * often:
            return True
    return False
