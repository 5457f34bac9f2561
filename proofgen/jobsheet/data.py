"""A day's work at the bench as data: nothing here says how it is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as File

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect
from proofgen.sheets.job import Job
from proofgen.workshop.settings import Setting
from proofgen.workshop.workshop import Group

# Where a layer comes from that is on no board of the run.
STOCK, BEFORE, NOWHERE = "stock", "cut before", "not cut: too large for any board"
LATER = "not cut yet: on the next boards"


@dataclass(frozen=True, slots=True)
class Tag:
    """Where the number of a piece stands on the drawing of its board: its middle, and whether the
    name stands below it. It may lead to a point of the piece by a line, and be smaller than usual.
    """

    at: Point
    named: bool
    leads_to: Point | None = None
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Lying:
    """A layer on a board, numbered from 1 as it comes free; `tray` is 0 for what goes into
    stock, which has no `order` either, and for what nobody asks for any more.

    `at` takes the layer's coordinates to the board's.
    """

    number: int
    tray: int
    order: str
    name: str
    copy: int
    layer: Layer
    at: Affine
    tag: Tag

    @property
    def goes_to(self) -> str:
        """The number of its tray, or what becomes of it instead."""
        return f"{self.tray}" if self.tray else "asked for no more" if self.order else "stock"


@dataclass(frozen=True, slots=True)
class Board:
    """A board to be cut. `wood` are its words, `stain` the id of the finish that goes on first.

    `settings` are those of its operations in the order of work, with the words for each. `back`
    says that its back is engraved first; `seconds` is the time on the machine, its areas engraved
    in that `way`. One that was `begun` lies in the machine already; a new one has a `price`, if
    that is known; `apart` says that its engraving and its cuts are files of their own. The places
    that are `kept_out` are those of the side that is up when it is cut.
    """

    job: Job
    wood: str
    stain: str
    pieces: tuple[Lying, ...]
    settings: tuple[tuple[Group, Setting], ...]
    back: bool
    seconds: float
    way: str
    begun: bool = False
    apart: bool = False
    price: str = ""
    kept_out: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class TrayLayer:
    """A layer that belongs in a tray: the id of its board and its number on that, or one of
    STOCK, BEFORE, NOWHERE and LATER with the number 0.
    """

    layer: Layer
    whence: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Tray:
    """One copy of a piece: its layers from the back to the front, wherever they come from; when it
    is due and how it is handed over, as typed.
    """

    number: int
    order: str
    line: int
    code: str
    copy: int
    name: str
    artwork: Artwork
    layers: tuple[TrayLayer, ...]
    due: str = ""
    delivery: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """Something done to the piece in a tray; `rank` orders the steps, `wait` says for how long it
    then rests, empty where it need not.
    """

    rank: int
    title: str
    tray: int
    what: str = ""
    wait: str = ""


@dataclass(frozen=True, slots=True)
class Task:
    """A line of a session: the piece or board by its number or id, whose it is, what to do."""

    where: str
    whose: str
    what: str


@dataclass(frozen=True, slots=True)
class Session:
    """One step over all orders of the run, done in one go; `cautions` belong to it.

    `before` says that it comes before anything is cut, and that its tasks are boards.
    """

    title: str
    wait: str
    tasks: tuple[Task, ...]
    cautions: tuple[str, ...] = ()
    before: bool = False


@dataclass(frozen=True, slots=True)
class Joint:
    """Two layers that are glued, as seen from the front, in piece coordinates (mm).

    `rear` and `front` are what they fill; `glue` is where glue goes, with its share of all that
    touches; `trays` are the copies.
    """

    trays: tuple[int, ...]
    title: str
    names: tuple[str, str]
    rear: Path
    front: Path
    glue: Path
    share: float


@dataclass(frozen=True, slots=True)
class OrderWork:
    """What is done for one order, step by step; each step's text names trays and boards."""

    number: str
    buyer: str
    due: str
    trays: tuple[int, ...]
    steps: tuple[tuple[str, str], ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """A line of a slip; `trays` are empty where the piece is not of this run."""

    name: str
    title: str
    count: int
    code: str
    trays: tuple[int, ...]
    picture: File | None


@dataclass(frozen=True, slots=True)
class Slip:
    """What is packed with an order. Sums are words, empty where nothing is known."""

    number: str
    buyer: str
    due: str
    delivery: str
    items: tuple[Item, ...]
    price: str
    paid: str
    balance: str


@dataclass(frozen=True, slots=True)
class JobSheet:
    """All of a run: `pull` counts layers to take from stock by their titles."""

    title: str
    day: str
    inset: float
    pull: tuple[tuple[str, int], ...]
    boards: tuple[Board, ...]
    trays: tuple[Tray, ...]
    sessions: tuple[Session, ...]
    orders: tuple[OrderWork, ...]
    slips: tuple[Slip, ...]
