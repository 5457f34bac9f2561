"""What a workshop file resolves to. Lengths in millimetres, colours as (r, g, b) of 0 to 255."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypeVar

from proofgen.workshop.boards import BoardSize
from proofgen.workshop.money import BoardPrice, Money
from proofgen.workshop.motion import Cutting, Motion
from proofgen.workshop.settings import Setting, Steps

Colour = tuple[int, int, int]

# What a message may say of its order, after a dollar sign.
PLACES = ("order", "buyer", "title", "pieces", "price", "code", "edition")

# The id of the message of designs that name none of their own.
USUAL_MESSAGE = "proof"

# Width and height in millimetres.
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}

# In the order of work.
OPERATIONS = ("engrave-area", "engrave-line", "cut-inside", "cut-outside")


@dataclass(frozen=True, slots=True)
class Bound:
    """What is wanted, and the least that may be made."""

    least: float
    wanted: float


@dataclass(frozen=True, slots=True)
class Machine:
    """How the tool changes what is drawn: a cut removes `kerf`, engraving grows by one `dot`."""

    kerf: float
    dot: float


@dataclass(frozen=True, slots=True)
class Limits:
    """The least and wanted sizes of one material, as they come out of the machine."""

    engraved_stroke: Bound
    engraved_gap: Bound
    engraving_to_cut: Bound
    web: Bound
    standing_stroke: Bound
    cut_opening: Bound
    hole_to_edge: Bound


@dataclass(frozen=True, slots=True)
class Material:
    """A sheet good. `unsafe` says why it must not be cut, empty where it may be."""

    id: str
    title: str
    thickness: float
    limits: Limits
    board: BoardSize
    price: BoardPrice | None = None
    unsafe: str = ""
    settings: tuple[tuple[str, Setting], ...] = ()

    def setting(self, operation: str) -> Setting:
        """How the machine is set for an operation; an empty setting where nothing is said."""
        return dict(self.settings).get(operation, Setting())


@dataclass(frozen=True, slots=True)
class Finish:
    """A finish: wood tones from dark to light, and the tone that engraving has in it.

    `when` is "none" (bare wood), "before" or "after" engraving. `designs` are the ids of those on
    which it is offered beside the designs that list it, None for all; it changes no picture.
    """

    id: str
    title: str
    when: str
    wood: tuple[Colour, Colour, Colour, Colour]
    engraving: Colour
    designs: tuple[str, ...] | None = field(default=None, repr=False, compare=False)

    @property
    def tones(self) -> str:
        """Those of the wood and of engraving, as text."""
        return " ".join("#{:02x}{:02x}{:02x}".format(*c) for c in (*self.wood, self.engraving))


@dataclass(frozen=True, slots=True)
class Hanger:
    """What a piece hangs on, and the hole that it needs; no hole where `hole` is 0.

    `length` is how far its loop reaches from the piece, drawn taut.
    """

    id: str
    title: str
    hole: float
    width: float
    colour: Colour
    length: float = 0.0


@dataclass(frozen=True, slots=True)
class Group:
    """How an operation group is named and coloured in production files.

    `depth` and `masking` are words for the person at the machine, empty where nothing is said.
    """

    operation: str
    name: str
    colour: Colour
    depth: str = ""
    masking: str = ""


@dataclass(frozen=True, slots=True)
class Narrowing:
    """The least factor of plain horizontal scaling, for plain and for joined faces."""

    plain: float
    script: float


@dataclass(frozen=True, slots=True)
class Selling:
    """How orders are taken: words of assent, payment, days that a piece needs, pieces a day."""

    assent: tuple[str, ...]
    cut_before_payment: bool
    drying_days: int
    packing_days: int
    pieces_a_day: int
    currency: str


@dataclass(frozen=True, slots=True)
class Proofs:
    """How proofs are made: with a watermark or not, sizes in inches beside millimetres or not, on
    which of PAPERS.
    """

    watermark: bool
    inches: bool
    paper: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The season's designs by id, none for all there are, and prices by id.

    `options` are what a choice adds to the price (or takes off), by column and choice; `unpriced`
    is what a picture says of a design without a price, if anything.
    """

    designs: tuple[str, ...]
    prices: tuple[tuple[str, Decimal], ...]
    options: tuple[tuple[str, str, Decimal], ...] = ()
    unpriced: str = ""


@dataclass(frozen=True, slots=True)
class Workshop:
    """Everything that the workshop file says; `source` names it in sentences to the person."""

    source: str
    title: str
    edition_year: int
    machine: Machine
    motion: Motion
    cutting: Cutting
    materials: tuple[Material, ...]
    finishes: tuple[Finish, ...]
    hangers: tuple[Hanger, ...]
    groups: tuple[Group, ...]
    cap_heights: tuple[tuple[str, Bound], ...]
    script_x_height: Bound
    narrowing: Narrowing
    typography: bool
    selling: Selling
    proofs: Proofs
    catalogue: Catalogue
    money: Money
    steps: Steps
    messages: tuple[tuple[str, str], ...]

    def material(self, wanted: str) -> Material:
        """The material of that id; KeyError where there is none."""
        return _by_id(self.materials, wanted)

    def finish(self, wanted: str) -> Finish:
        """The finish of that id; KeyError where there is none."""
        return _by_id(self.finishes, wanted)

    def hanger(self, wanted: str) -> Hanger:
        """The hanger of that id; KeyError where there is none."""
        return _by_id(self.hangers, wanted)

    def group(self, operation: str) -> Group:
        """The operation group of that operation; KeyError where there is none."""
        return next(group for group in self.groups if group.operation == operation)

    def cap_height(self, field: str) -> Bound:
        """The cap heights of a field; a field without its own takes those of the inscription."""
        known = dict(self.cap_heights)
        return known.get(field, known["inscription"])


T = TypeVar("T", Material, Finish, Hanger)


def _by_id(items: tuple[T, ...], wanted: str) -> T:
    for item in items:
        if item.id == wanted:
            return item
    raise KeyError(wanted)
