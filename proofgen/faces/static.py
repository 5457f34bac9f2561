"""A variable face at one setting as a font file of its own, for documents that embed it."""

from __future__ import annotations

import io
from functools import lru_cache
from pathlib import Path as File

# Basic Latin, Latin-1, Latin Extended-A, dashes, quotes, the euro.
CHARACTERS = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180)))) + (
    "\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u20ac"
)


@lru_cache(maxsize=4)
def static(file: File, weight: float, name: str) -> bytes:
    """The glyphs of CHARACTERS that the face has, at that weight, as TrueType of that name."""
    from fontTools import subset
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    font = TTFont(file, recalcTimestamp=False)
    # Made smaller first: the rest of the face would only be thrown away later.
    options = subset.Options(layout_features=[], notdef_outline=True, name_IDs=[1, 2, 6])
    chosen = subset.Subsetter(options)
    chosen.populate(text=CHARACTERS)
    chosen.subset(font)
    instancer.instantiateVariableFont(font, {"wght": weight}, inplace=True)
    font["name"].setName(name, 6, 3, 1, 0x409)
    stream = io.BytesIO()
    font.save(stream)
    return stream.getvalue()
