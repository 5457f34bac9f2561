"""A lettering slot of a design: its table in design.toml."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen import config
from proofgen.config import Table
from proofgen.designs.design import Slot
from proofgen.designs.read_layer import DrawnLayer
from proofgen.designs.read_side import FRONT, SIDES, DrawnSide
from proofgen.designs.roles import IDENTITY
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.inscribed import inscribed
from proofgen.orders.columns import ALIASES, FIELDS, KNOWN, plain
from proofgen.orders.order import ORDER
from proofgen.workshop.workshop import Bound, Workshop

SLOT_KEYS = (
    "field",
    "layer",
    "faces",
    "faces_asked",
    "cap_height",
    "narrow",
    "lines",
    "lines_asked",
    "leading",
    "align",
    "anchor",
    "baseline",
    "case",
    "made",
    "bolder",
    "mended",
    "side",
    "default",
)
ALIGNMENTS = ("left", "centre", "right", "free")
CASES = ("as-typed", "capitals")
MADE = ("engrave", "cut", "stand")
MOST_LINES = 4
# Columns of the order book that say something else than what to letter; the number is lettered too.
RESERVED = tuple(name for name in (*KNOWN, *ALIASES) if name not in (*FIELDS, ORDER))
# How far a polygon may keep within a curved zone, mm: a loss nobody sees, and few edges to fit.
TOLERANCE = 0.03
# A number for the workshop's own eyes, where another layer covers it.
IDENTITY_CAP_HEIGHT = Bound(2.0, 3.2)
IDENTITY_FACES = ("roboto-flex", "open-sans")


def read_slot(
    table: Table, place: str, layers: Mapping[str, DrawnLayer], workshop: Workshop
) -> Slot:
    """Read one slot; `place` names it in sentences until its field is known."""
    field = config.text(table, "field", place)
    place = f"{place} ({field})"
    _check_free(field, place)
    config.check_keys(table, SLOT_KEYS, place)
    layer = config.choice(table, "layer", place, tuple(layers))
    drawn = drawn_side(table, place, layers[layer])
    zone = zone_of(field, drawn)
    faces = config.texts(table, "faces", place)
    if not faces:
        raise UnusableError(f"{place}: 'faces' is empty; name at least one.")
    made = config.choice(table, "made", place, MADE, "engrave")
    if made != "engrave" and drawn.side != FRONT:
        raise UnusableError(f"{place}: is cut, so its side is the front.")
    most_lines = 1 if field in drawn.lines else MOST_LINES
    lines = config.whole(table, "lines", place, 1, least=1, most=most_lines)
    (left, right), (top, bottom) = ((min(line), max(line)) for line in zip(*zone, strict=True))
    return Slot(
        field=field,
        layer=layer,
        zone=zone,
        faces=faces,
        faces_asked=config.texts(table, "faces_asked", place, ()),
        cap_height=_cap_height(table, place, _usual(field, workshop)),
        narrow=config.number(table, "narrow", place, 0.75, least=0.4, most=1),
        lines=lines,
        lines_asked=config.whole(table, "lines_asked", place, lines, least=lines, most=most_lines),
        leading=config.number(table, "leading", place, 1.25, least=0.7, most=3),
        align=config.choice(table, "align", place, ALIGNMENTS, "centre"),
        anchor=config.number(table, "anchor", place, (left + right) / 2, least=left, most=right),
        baseline=config.number(table, "baseline", place, None, least=top, most=bottom),
        case=config.choice(table, "case", place, CASES, "as-typed"),
        made=made,
        side=drawn.side,
        path=drawn.lines.get(field),
        bolder=config.number(table, "bolder", place, 0.0, least=0, most=3),
        mended=config.number(table, "mended", place, 0.0, least=0, most=2),
        usual=config.text(table, "default", place, ""),
    )


def identity_table(layer: str, side: str) -> Table:
    """The table of the slot for the order's number, which a design need not write."""
    return {"field": ORDER, "layer": layer, "side": side, "faces": list(IDENTITY_FACES)}


def drawn_side(table: Table, place: str, drawn: DrawnLayer) -> DrawnSide:
    """The side that a slot's table names; UnusableError where the layer has no such drawing."""
    side = config.choice(table, "side", place, SIDES, FRONT)
    if side not in drawn.sides:
        raise UnusableError(
            f"{place}: its side is '{side}', but the layer has no 'back_drawing'; name one."
        )
    return drawn.sides[side]


def zone_of(field: str, drawn: DrawnSide) -> tuple[Point, ...]:
    """The corners of a field's zone; UnusableError where it is missing or no simple outline."""
    wanted = f"zone.{field}"
    if field not in drawn.zones:
        known = [IDENTITY if name == ORDER else f"zone.{name}" for name in drawn.zones]
        there = config.nearest(wanted, known) if known else "it has no zone at all."
        raise UnusableError(f"{drawn.drawing}: has no element '{wanted}'; {there}")
    try:
        return inscribed(drawn.zones[field], TOLERANCE)
    except ValueError as error:
        raise UnusableError(f"{drawn.drawing}, element '{wanted}': {error}.") from None


def _check_free(field: str, place: str) -> None:
    """UnusableError for a field that would take another column's cells for its text."""
    taken = next((column for column in RESERVED if plain(column) == plain(field)), None)
    if taken:
        raise UnusableError(
            f"{place}: '{field}' means the order book's column '{taken}'; name the field otherwise."
        )
    usual = next((name for name in FIELDS if plain(name) == plain(field)), field)
    if usual != field:
        raise UnusableError(f"{place}: write the field '{usual}'.")


def _usual(field: str, workshop: Workshop) -> Bound:
    return IDENTITY_CAP_HEIGHT if field == ORDER else workshop.cap_height(field)


def _cap_height(table: Table, place: str, usual: Bound) -> Bound:
    """What the slot says, else what the workshop wants of the field."""
    own = config.table(table, "cap_height", place, {})
    place = f"{place}, cap_height"
    config.check_keys(own, ("least", "wanted"), place)
    least = config.number(own, "least", place, usual.least, least=1, most=200)
    wanted = config.number(own, "wanted", place, max(usual.wanted, least), least=least, most=200)
    return Bound(least, wanted)
