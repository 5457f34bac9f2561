"""The HarfBuzz adapter: one face file, its variation, shaping and glyph outlines.

Everything comes out in ems with y down, so that a size is a plain factor.
"""

from __future__ import annotations

import hashlib
import struct
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path as File
from typing import Any

import uharfbuzz as hb

from proofgen.errors import UnusableError
from proofgen.faces.direction import visual_runs
from proofgen.faces.pen import SegmentPen
from proofgen.geometry.path import Path

Axes = tuple[tuple[str, float], ...]

# Lining figures everywhere: a year in old-style figures reads as smaller than it is.
FEATURES = {"kern": True, "liga": True, "lnum": True}
TRACKED = {"kern": True, "liga": False, "clig": False, "lnum": True}


@dataclass(frozen=True, slots=True)
class Glyph:
    """A shaped glyph: its id, where its origin lies, and the index of its first character."""

    id: int
    x: float
    y: float
    cluster: int


class Face:
    """A face as `faces.toml` describes it; fonts are made once per setting of the axes.

    `weights` and `widths` are the ladders to search, as described in that file; `mark_gap` is what
    marks keep from their letter and from one another, in ems.
    """

    def __init__(self, file: File, table: dict[str, Any]) -> None:
        self.id: str = table["id"]
        self.title: str = table["title"]
        self.joined: bool = table.get("joined", False)
        self.weights: tuple[float, ...] = tuple(table.get("weights", ()))
        self.widths: tuple[float, ...] = tuple(table.get("widths", ()))
        self.mark_gap: float = table.get("mark_gap", 0.0)
        self._data = _read(file)
        self._face = hb.Face(self._data)
        if self._face.glyph_count == 0 or _cut_short(self._data):
            raise UnusableError(f"{file} is damaged or not a font: copy it anew from its source.")
        self._em = float(self._face.upem)
        self._fonts: dict[Axes, hb.Font] = {}
        self._known: frozenset[int] = frozenset(self._face.unicodes)
        self.normal: Axes = self.axes(**table.get("axes", {}))

    @cached_property
    def sha256(self) -> str:
        """The digest of the file, and of what else decides its outlines."""
        moved = f"mark gap {self.mark_gap:g}".encode() if self.mark_gap else b""
        return hashlib.sha256(self._data + moved).hexdigest()

    def axes(self, **chosen: float) -> Axes:
        """Every axis of the file with its value: the chosen ones, else the file's defaults."""
        known = {axis.tag: float(axis.default_value) for axis in self._face.axis_infos}
        if unknown := set(chosen) - set(known):
            raise UnusableError(
                f"faces.toml, {self.id}: the file has no axis {sorted(unknown)[0]}."
            )
        return tuple(sorted({**known, **chosen}.items()))

    def missing(self, text: str) -> str:
        """The characters of a text that the face has no glyph for, each once."""
        absent = (c for c in text if ord(c) not in self._known and not _invisible(c))
        return "".join(dict.fromkeys(absent))

    def cap_height(self, axes: Axes) -> float | None:
        """OS/2 sCapHeight in ems; where it is absent the measured H; None without an H."""
        return self._height(axes, hb.OTMetricsTag.CAP_HEIGHT, "H")

    def x_height(self, axes: Axes) -> float | None:
        """OS/2 sxHeight in ems; where it is absent the measured x; None without an x."""
        return self._height(axes, hb.OTMetricsTag.X_HEIGHT, "x")

    @lru_cache(maxsize=1024)  # noqa: B019 - faces live as long as the program
    def shape(
        self, axes: Axes, text: str, tracked: bool = False
    ) -> tuple[tuple[Glyph, ...], float]:
        """Glyphs of one line in visual order, left to right, and the advance; all in ems."""
        glyphs: list[Glyph] = []
        pen = 0.0
        font = self._font(axes)
        for start, part, rightward in visual_runs(text):
            buffer = hb.Buffer()
            buffer.add_str(part)
            buffer.guess_segment_properties()
            buffer.direction = "ltr" if rightward else "rtl"
            hb.shape(font, buffer, TRACKED if tracked else FEATURES)
            infos, positions = buffer.glyph_infos, buffer.glyph_positions
            for info, at in zip(infos, positions, strict=True):
                x, y = (pen + at.x_offset) / self._em, -at.y_offset / self._em
                glyphs.append(Glyph(info.codepoint, x, y, start + info.cluster))
                pen += at.x_advance
        return tuple(glyphs), pen / self._em

    @lru_cache(maxsize=1024)  # noqa: B019 - faces live as long as the program
    def outline(self, axes: Axes, glyph: int) -> Path:
        """The outline of a glyph in ems, y down; contours of one glyph may overlap."""
        pen = SegmentPen(1 / self._em)
        self._font(axes).draw_glyph_with_pen(glyph, pen)
        if not self.mark_gap:
            return pen.path()
        from proofgen.geometry.spread import spread

        return spread(pen.path(), self.mark_gap)

    def is_mark(self, glyph: int) -> bool:
        """Whether it is a mark set on a letter (OpenType specification, GDEF glyph classes)."""
        return bool(self._face.get_layout_glyph_class(glyph) == hb.OTLayoutGlyphClass.MARK)

    def _font(self, axes: Axes) -> hb.Font:
        font = self._fonts.get(axes)
        if font is None:
            font = self._fonts[axes] = hb.Font(self._face)
            font.set_variations(dict(axes))
        return font

    @lru_cache(maxsize=256)  # noqa: B019 - faces live as long as the program
    def _height(self, axes: Axes, tag: hb.OTMetricsTag, letter: str) -> float | None:
        font = self._font(axes)
        declared = font.get_metric_position(tag)
        if declared:
            return float(declared) / self._em
        glyph = font.get_nominal_glyph(ord(letter))
        return -self.outline(axes, glyph).bounds().top if glyph else None


def _read(file: File) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise UnusableError(
            f"{file} cannot be read ({error.strerror}): put the face there."
        ) from None


def _cut_short(data: bytes) -> bool:
    """Whether a table lies beyond the file's end (OpenType specification, table directory).

    HarfBuzz takes such a table for an empty one, and its letters for blank.
    """
    if data[:4] == b"ttcf":
        return False
    (count,) = struct.unpack_from(">H", data, 4)
    tables = (struct.unpack_from(">4s3L", data, 12 + 16 * i) for i in range(count))
    return any(offset + length > len(data) for _, _, offset, length in tables)


def _invisible(character: str) -> bool:
    """Joiners, direction marks and line breaks are obeyed and have no glyph of their own."""
    return character in "\n\u200c\u200d\u200e\u200f\u2066\u2067\u2068\u2069\u202a\u202b\u202c"
