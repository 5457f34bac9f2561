"""A face at one setting: units of glyphs with their outlines and measures, from a cache.

A unit is what moves as one: a letter with its marks, or letters that overlap and are welded.
Everything is in ems, already scaled across by `squeeze`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from proofgen.faces.cache import MeasureCache
from proofgen.faces.face import Axes, Face, Glyph
from proofgen.geometry.affine import Affine
from proofgen.geometry.curves import Box
from proofgen.geometry.path import Path, Points, join, polygon

# A chord of a flattened outline leaves the curve by at most this, in ems.
FLATNESS = 1e-4
# A width that is larger by less than this is not tried again.
AGAIN = 1.1

Key = tuple[tuple[int, float, float], ...]


@dataclass(frozen=True, slots=True)
class Unit:
    """Glyphs (id, x, y) about the unit's own origin."""

    key: Key
    x: float

    def moved(self, dx: float) -> Unit:
        """The unit further right by dx."""
        return Unit(self.key, self.x + dx)


@dataclass(slots=True)
class Seen:
    """What trying a few widths told: it is under the one, and was not seen at the other."""

    name: str | None = None
    under: float = math.inf
    unseen: float = 0.0


@dataclass(slots=True, eq=False)
class Cut:
    """A face with its axes set and its outlines scaled across by `squeeze`."""

    face: Face
    axes: Axes
    squeeze: float
    cache: MeasureCache
    _glyphs: dict[int, Path] = field(default_factory=dict)
    _outlines: dict[Key, Path] = field(default_factory=dict)
    _points: dict[Key, Points] = field(default_factory=dict)
    _edges: dict[Key, Points] = field(default_factory=dict)
    _strokes: dict[Key, float] = field(default_factory=dict)
    _within: dict[Key, float] = field(default_factory=dict)
    _gaps: dict[tuple[Key, Key, float], float] = field(default_factory=dict)
    _boxes: dict[Key, Box] = field(default_factory=dict)
    _seen: dict[tuple[str, Key], Seen] = field(default_factory=dict)
    _group: str = ""

    def units(self, text: str, tracking: float) -> tuple[Unit, ...]:
        """Units of one line, left to right from the line's origin; overlapping ones are one."""
        inked = self._inked(text, tracking != 0)
        return tuple(self._merge([Unit(key, x + tracking * number) for key, x, number in inked]))

    def outline(self, key: Key) -> Path:
        """The unit's outline about its origin, welded where glyphs overlap."""
        if key not in self._outlines:
            placed = [self._glyph(g).moved(Affine.shift(x, y)) for g, x, y in key]
            self._outlines[key] = _welded(placed)
        return self._outlines[key]

    def points(self, key: Key) -> Points:
        """The corners (n, 2) of the unit's convex hull."""
        if key not in self._points:
            from proofgen.geometry.corners import hull

            self._points[key] = hull(np.concatenate(self.outline(key).flatten(FLATNESS)))
        return self._points[key]

    def edges(self, key: Key) -> Points:
        """The flattened outline as edges (n, 4): x and y of the start, x and y of the end."""
        if key not in self._edges:
            lines = self.outline(key).flatten(FLATNESS)
            self._edges[key] = np.concatenate([np.hstack([p[:-1], p[1:]]) for p in lines])
        return self._edges[key]

    def stroke(self, key: Key) -> float:
        """The unit's thinnest stroke in ems, infinite where there is none."""
        if key not in self._strokes:
            self._strokes[key] = self._known("stroke", _spell(key), lambda: self._thinnest(key))
        return self._strokes[key]

    def gap_within(self, key: Key) -> float:
        """The unit's narrowest gap in ems, infinite where there is none."""
        if key not in self._within:
            self._within[key] = self._known("gap", _spell(key), lambda: self._narrowest(key))
        return self._within[key]

    def has_stroke(self, key: Key, width: float) -> bool:
        """Whether a stroke of the unit is surely thinner, in ems; what is not known is tried."""
        return self._sure("stroke", key, width, self._strokes)

    def has_gap(self, key: Key, width: float) -> bool:
        """The same of the gaps within it."""
        return self._sure("gap", key, width, self._within)

    def gap(self, left: Unit, right: Unit) -> float:
        """The distance between two units, 0 where they touch, in ems."""
        offset = round(right.x - left.x, 6)
        at = (left.key, right.key, offset)
        found = self._gaps.get(at)
        if found is None:
            name = f"{_spell(left.key)}|{_spell(right.key)}|{offset}"
            found = self._gaps[at] = self._known("pair", name, lambda: self._distance(left, right))
        return found

    def room(self, left: Unit, right: Unit) -> float:
        """From where one ends to where the other begins: their distance is no less, in ems."""
        return self.box(right.key)[0] + right.x - self.box(left.key)[2] - left.x

    def box(self, key: Key) -> Box:
        """Where the unit's ink ends, about its origin: left, top, right, bottom."""
        box = self._boxes.get(key)
        if box is None:
            points = self.points(key)
            left, top = map(float, points.min(axis=0))
            right, bottom = map(float, points.max(axis=0))
            box = self._boxes[key] = left, top, right, bottom
        return box

    # A text is set at one tracking after the other.
    @lru_cache(maxsize=1024)  # noqa: B019 - cuts live as long as the program
    def _inked(self, text: str, tracked: bool) -> tuple[tuple[Key, float, int], ...]:
        """What is drawn of a line, from its left: the key and x of each letter, and its number."""
        glyphs, _ = self.face.shape(self.axes, text, tracked)
        return tuple(
            (*_about_first(cluster, self.squeeze), number)
            for number, cluster in enumerate(_clusters(glyphs))
            if any(self._glyph(glyph.id) for glyph in cluster)
        )

    def _glyph(self, glyph: int) -> Path:
        if glyph not in self._glyphs:
            drawn = _welded([self.face.outline(self.axes, glyph)])
            self._glyphs[glyph] = drawn.moved(Affine.scale(self.squeeze, 1.0))
        return self._glyphs[glyph]

    def _thinnest(self, key: Key) -> float:
        from proofgen.geometry.strokes import thinnest_stroke

        return thinnest_stroke(self.outline(key), 1.0)

    def _narrowest(self, key: Key) -> float:
        from proofgen.geometry.strokes import narrowest_gap

        return narrowest_gap(self._closed_marks(key), 1.0)

    def _sure(self, what: str, key: Key, width: float, known: dict[Key, float]) -> bool:
        """Whether it is surely under the width; what was tried at about that width is not again."""
        if key in known:
            return known[key] < width
        seen = self._seen.setdefault((what, key), Seen())
        if seen.name is None:
            seen.name = _spell(key)
            measure = self._stored(f"{what} {seen.name}")
            if measure is not None:
                known[key] = measure
                return measure < width
            seen.under = self._stored(f"{what} below {seen.name}") or math.inf
            seen.unseen = self._stored(f"{what} clear {seen.name}") or 0.0
        if width >= seen.under or width < seen.unseen * AGAIN:
            return width >= seen.under
        sure = self._has(what, key, width)
        if sure:
            seen.under = width
        else:
            seen.unseen = width
        self.cache.put(self._group, f"{what} {'below' if sure else 'clear'} {seen.name}", width)
        return sure

    def _has(self, what: str, key: Key, width: float) -> bool:
        from proofgen.geometry.strokes import has_gap, has_stroke

        if what == "gap":
            return has_gap(self._closed_marks(key), width, 1.0)
        return has_stroke(self.outline(key), width, 1.0)

    def _closed_marks(self, key: Key) -> Path:
        """The outline with the dots of one mark run together, as handwriting has them.

        Two dots of an Arabic letter that close up when they are engraved still read as two.
        """
        several = {g for g, _, _ in key if len(self._glyph(g).kinds) > 1 and self.face.is_mark(g)}
        if not several:
            return self.outline(key)
        from proofgen.geometry.corners import hull

        closed = [
            polygon(map(tuple, hull(np.concatenate(self._glyph(g).flatten(FLATNESS)))))
            if g in several
            else self._glyph(g)
            for g, _, _ in key
        ]
        shifts = [Affine.shift(x, y) for _, x, y in key]
        return _welded([path.moved(at) for path, at in zip(closed, shifts, strict=True)])

    def _distance(self, left: Unit, right: Unit) -> float:
        from proofgen.geometry.polygons import distance

        a = self.outline(left.key)
        b = self.outline(right.key).moved(Affine.shift(right.x - left.x, 0.0))
        return distance(a, b, 10 * FLATNESS)

    def _merge(self, units: list[Unit]) -> list[Unit]:
        """Neighbours that overlap become one unit, which is measured as it is cut."""
        merged: list[Unit] = []
        members: list[Unit] = []
        for unit in units:
            # What overlaps a whole overlaps a member, and pairs are known from other texts.
            if any(self._overlap(member, unit) for member in reversed(members)):
                merged.append(_together(merged.pop(), unit))
            else:
                merged.append(unit)
                members = []
            members.append(unit)
        return merged

    def _overlap(self, left: Unit, right: Unit) -> bool:
        return self.room(left, right) <= 0 == self.gap(left, right)

    def _stored(self, key: str) -> float | None:
        if not self._group:
            axes = ",".join(f"{tag}={value:g}" for tag, value in self.axes)
            self._group = f"{self.face.sha256[:16]} {axes} {self.squeeze:g}"
        return self.cache.group(self._group).get(key)

    def _known(self, what: str, name: str, compute: Callable[[], float]) -> float:
        key = f"{what} {name}"
        found = self._stored(key)
        if found is None:
            found = compute()
            self.cache.put(self._group, key, found)
        return found


def _clusters(glyphs: tuple[Glyph, ...]) -> list[list[Glyph]]:
    """Glyphs in runs of the same cluster: a letter with its marks."""
    runs: list[list[Glyph]] = []
    for glyph in glyphs:
        if runs and runs[-1][0].cluster == glyph.cluster:
            runs[-1].append(glyph)
        else:
            runs.append([glyph])
    return runs


def _about_first(cluster: list[Glyph], squeeze: float) -> tuple[Key, float]:
    """The glyphs about the first one's origin, and its x."""
    first = cluster[0].x
    key = tuple((g.id, round((g.x - first) * squeeze, 6), round(g.y, 6)) for g in cluster)
    return key, first * squeeze


def _together(left: Unit, right: Unit) -> Unit:
    shift = right.x - left.x
    moved = tuple((g, round(x + shift, 6), y) for g, x, y in right.key)
    return Unit(left.key + moved, left.x)


def _welded(paths: list[Path]) -> Path:
    from proofgen.geometry.weld import weld

    whole = join(paths)
    return weld([whole]) if len(whole.kinds) > 1 else whole


def _spell(key: Key) -> str:
    return " ".join(f"{g},{x:g},{y:g}" for g, x, y in key)
