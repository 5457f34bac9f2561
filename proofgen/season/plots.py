"""Bars and columns: shapes as inline SVG in percentages of its width, letters as text of the page,
so that a plot is as readable on a phone as on a desk and to a screen reader.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

_BAR, _PLOT = 14, 130  # px: thickness of a bar, room of the columns
_FEW = 4  # columns that have a label each
_WIDEST = 12.0  # percent of the width: a column, where there are few


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
    items: list[str] = []
    for row in rows:
        at = (row.value - low) / span * 100
        items.append(
            f"<li><p><span>{escape(row.label)}</span> <b>{escape(row.text)}</b></p>"
            f'<svg aria-hidden="true" width="100%" height="{_BAR}">'
            f'<rect class="track" x="0" width="100%" height="{_BAR}"/>'
            f'<rect class="{row.tone}" x="{min(zero, at):.3f}%" width="{abs(at - zero):.3f}%" '
            f'height="{_BAR}"/></svg></li>'
        )
    return f'<ul class="bars" aria-label="{escape(title, quote=True)}">{"".join(items)}</ul>'


def columns(title: str, rows: Sequence[Bar]) -> str:
    """One column a row, at least one, side by side as for weeks. The greatest and the least value
    are told above them; the first, the last, and where there is one the middle label below, all
    labels of a few.
    """
    low, span = _range(rows)
    zero, slot = _PLOT * (low + span) / span, 100 / len(rows)
    wide = min(0.76 * slot, _WIDEST)
    parts: list[str] = []
    for i, row in enumerate(rows):
        top = _PLOT * (low + span - row.value) / span
        parts.append(
            f'<rect class="{row.tone}" x="{(i + 0.5) * slot - wide / 2:.3f}%" width="{wide:.3f}%" '
            f'y="{min(top, zero):.1f}" height="{abs(top - zero):.1f}"/>'
        )
    parts.append(f'<line class="axis" x1="0" x2="100%" y1="{zero:.1f}" y2="{zero:.1f}"/>')
    said = "; ".join(f"{row.label}: {row.text}" for row in rows)
    name = escape(f"{title}. {said}", quote=True)
    ticks = "".join(f"<span>{escape(each)}</span>" for each in _ticks(rows))
    manner = "ticks each" if len(rows) <= _FEW else "ticks"
    return (
        f'<div class="columns"><p>{escape(_extent(rows))}</p>'
        f'<svg role="img" aria-label="{name}" width="100%" height="{_PLOT + 1}">'
        f'{"".join(parts)}</svg><p class="{manner}">{ticks}</p></div>'
    )


def _extent(rows: Sequence[Bar]) -> str:
    most, least = (pick(rows, key=lambda row: row.value) for pick in (max, min))
    return f"most {most.text}" if least.value >= 0 else f"{least.text} to {most.text}"


def _ticks(rows: Sequence[Bar]) -> list[str]:
    """Labels that stand below the columns that they belong to when they are spread evenly."""
    if len(rows) <= _FEW:
        return [row.label for row in rows]
    last = len(rows) - 1
    places = dict.fromkeys((0, *([last // 2] if last % 2 == 0 else []), last))
    return [rows[i].label for i in places]


def _range(rows: Sequence[Bar]) -> tuple[float, float]:
    """The least value or zero, and how far it is from there to the greatest."""
    values = [row.value for row in rows]
    low = min((0.0, *values))
    return low, (max((0.0, *values)) - low) or 1.0
