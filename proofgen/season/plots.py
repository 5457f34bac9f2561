"""Bars and columns as inline SVG. Lengths are percentages and letters are in px, so that a plot is
as readable on a phone as on a desk.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

_LINE, _TEXT, _BAR = 44, 15, 14  # px: height of a row, its text's baseline, thickness of a bar
_TOP, _PLOT, _FOOT = 24, 130, 24  # px: above the columns, their room, below them
_LONGEST = 30  # characters of a label on a phone


@dataclass(frozen=True, slots=True)
class Bar:
    """A value with its label, as text, and the class that colours it."""

    label: str
    value: float
    text: str
    tone: str = "plain"


def bars(title: str, rows: Sequence[Bar]) -> str:
    """One bar a row, label and value above it; values below zero go to the left of it."""
    low, span = _range(rows)
    zero = -low / span * 100
    parts: list[str] = []
    for i, row in enumerate(rows):
        y, at = i * _LINE, (row.value - low) / span * 100
        parts += (
            f'<text x="0" y="{y + _TEXT}">{escape(_short(row.label))}</text>',
            f'<text x="100%" y="{y + _TEXT}" text-anchor="end">{escape(row.text)}</text>',
            f'<rect class="track" x="0" width="100%" y="{y + 21}" height="{_BAR}"/>',
            f'<rect class="{row.tone}" x="{min(zero, at):.3f}%" width="{abs(at - zero):.3f}%" '
            f'y="{y + 21}" height="{_BAR}"/>',
        )
    return _svg(title, rows, len(rows) * _LINE, parts)


def columns(title: str, rows: Sequence[Bar]) -> str:
    """One column a row, side by side, as for weeks; the greatest and the least value are told, and
    the first, the middle and the last label.
    """
    low, span = _range(rows)
    zero, slot = _TOP + _PLOT * (low + span) / span, 100 / max(len(rows), 1)
    parts: list[str] = []
    for i, row in enumerate(rows):
        top = _TOP + _PLOT * (low + span - row.value) / span
        parts.append(
            f'<rect class="{row.tone}" x="{(i + 0.12) * slot:.3f}%" width="{0.76 * slot:.3f}%" '
            f'y="{min(top, zero):.1f}" height="{abs(top - zero):.1f}"/>'
        )
    parts.append(f'<line class="axis" x1="0" x2="100%" y1="{zero:.1f}" y2="{zero:.1f}"/>')
    if rows:
        most = max(rows, key=lambda row: row.value)
        least = min(rows, key=lambda row: row.value)
        told = f"most {most.text}" if least.value >= 0 else f"{least.text} to {most.text}"
        parts.append(f'<text x="0" y="{_TEXT}">{escape(told)}</text>')
    foot = _TOP + _PLOT + _FOOT
    parts += (
        f'<text x="{x:.3f}%" y="{foot - 6}" text-anchor="{anchor}">{escape(rows[i].label)}</text>'
        for i, x, anchor in _ticks(len(rows))
    )
    return _svg(title, rows, foot, parts)


def _ticks(count: int) -> list[tuple[int, float, str]]:
    """Which labels stand below the columns, where, and how they are anchored."""
    if count <= 2:
        return [(i, (i + 0.5) * 100 / count, "middle") for i in range(count)]
    middle = count // 2
    return [
        (0, 0.0, "start"),
        (middle, (middle + 0.5) * 100 / count, "middle"),
        (count - 1, 100.0, "end"),
    ]


def _range(rows: Sequence[Bar]) -> tuple[float, float]:
    """The least value or zero, and how far it is from there to the greatest."""
    values = [row.value for row in rows]
    low = min((0.0, *values))
    return low, (max((0.0, *values)) - low) or 1.0


def _svg(title: str, rows: Sequence[Bar], height: int, parts: Sequence[str]) -> str:
    said = "; ".join(f"{row.label}: {row.text}" for row in rows)
    name = escape(f"{title}. {said}", quote=True)
    return (
        f'<svg role="img" aria-label="{name}" width="100%" height="{height}">{"".join(parts)}</svg>'
    )


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
