"""How a name is judged in a design, as a row is, and whether the remedies of a row are true."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from proofgen.artwork.artwork import Made
from proofgen.artwork.compose import fit_slots
from proofgen.artwork.rules import rules_for
from proofgen.artwork.settle import Piece, settled
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.designs.design import Design, Slot
from proofgen.designs.resolve import resolve
from proofgen.flags.flag import Severity
from proofgen.lettering.choose import choose
from proofgen.lettering.lines import broken
from proofgen.lettering.notes import failure
from proofgen.orders.order import Line, Order, Source

# The forms of a remedy, as proofgen/remedies writes them.
REMEDIES = re.compile(
    r"Break it over (?P<lines>\d+) lines in the cell, .+?: it would reach (?P<a>[\d.]+) mm\."
    r"|Type (?P<face>[^:]+?) in a Face column: it would reach (?P<b>[\d.]+) mm\."
    r"|Type (?P<size>[^:]+?) in a Size column: it would reach (?P<f>[\d.]+) mm\."
    r"|Leave (?P<strange>.+?) out: it would reach (?P<e>[\d.]+) mm\."
    r"|Choose the design (?P<design>[^:]+): it would reach (?P<c>[\d.]+) mm\."
    r'|"(?P<part>[^"]+)" would reach (?P<d>[\d.]+) mm\.'
)
Outcome = str


@lru_cache(maxsize=1)
def shop() -> Shop:
    return open_shop()


def order_of(design: str, name: str) -> Order:
    return Order("1", 1, Source("", "", 1), design, (("name", name),))


@lru_cache
def usual(design: str) -> Design:
    """The design as it is before it grows for a name."""
    resolved, _ = resolve(shop().templates[design], order_of(design, "Ida"), shop().workshop)
    assert resolved is not None
    return resolved


def outcome(design: str, name: str) -> Outcome:
    """wanted, least or remedy: how the name slot of the design takes that name."""
    order, workshop, bench = order_of(design, name), shop().workshop, shop().bench
    grown = settled([Piece(order, usual(design))], False, workshop, bench)[0]
    slot = next(slot for slot in grown.slots if slot.field == "name")
    reached = engraved(name, slot, grown) if slot.made == "engrave" else cut(order, grown)
    if not reached:
        return "remedy"
    return "wanted" if reached >= slot.cap_height.wanted - 0.005 else "least"


def engraved(name: str, slot: Slot, design: Design) -> float:
    """The cap height where all limits of lettering are met, else 0."""
    rules = rules_for(slot, design, shop().workshop)
    name = name.upper() if slot.case == "capitals" else name
    choice = choose(name, slot, rules, shop().bench)
    if choice is None or failure(choice, slot, rules, "row 1"):
        return 0.0
    return choice.trial.cap_height


def cut(order: Order, design: Design) -> float:
    """The same for letters that are cut, which must hold together as well."""
    fitted = fit_slots(order, design, shop().workshop, shop().bench)
    item = next(item for item in fitted if item.slot.field == "name")
    return item.lettering.cap_height if item.lettering else 0.0


@dataclass(frozen=True, slots=True)
class Judged:
    """A text in a design: `named` remedies, of which `true` are; why it stops, in a row's words."""

    text: str
    outcome: Outcome
    named: int = 0
    true: int = 0
    why: str = ""

    @property
    def helpless(self) -> bool:
        """Whether it needs a remedy and has none that passes."""
        return self.outcome == "remedy" and not self.true


def judged(task: tuple[str, str]) -> Judged:
    """How the design takes the text; each remedy that its row names is carried out."""
    design, text = task
    found = outcome(design, text)
    return remedied(design, text) if found == "remedy" else Judged(text, found)


def remedied(design: str, text: str) -> Judged:
    """A text that needs a remedy, with what its row says."""
    order = order_of(design, text)
    made = make_row(Line(order), shop())
    stops = [flag for flag in made.flags if flag.kind.severity is Severity.STOP]
    named = [m for flag in stops[:1] for m in REMEDIES.finditer(flag.remedy)]
    true = sum(holds(order, remedy) for remedy in named)
    return Judged(text, "remedy", len(named), true, "; ".join(flag.text for flag in stops))


def holds(order: Order, remedy: re.Match[str]) -> bool:
    """Whether the piece is made, at that cap height, once the remedy is followed."""
    made = make_row(Line(followed(order, remedy)), shop())
    promised = next(float(remedy[key]) for key in "abcdef" if remedy[key])
    return abs(name_height(made) - promised) < 0.006


def followed(order: Order, remedy: re.Match[str]) -> Order:
    if remedy["design"]:
        return replace(order, design=remedy["design"])
    if remedy["size"]:
        return replace(order, options=(("size", remedy["size"]),))
    if remedy["face"]:
        return replace(order, options=(("face", remedy["face"]),))
    name = order.field("name")
    if remedy["strange"]:
        kept = "".join(c for c in name if c not in remedy["strange"])
        return replace(order, fields=(("name", " ".join(kept.split())),))
    words = name.split()
    lines = remedy["lines"]
    text = "\n".join(broken(words, int(lines))) if lines else remedy["part"]
    return replace(order, fields=(("name", text),))


def name_height(made: Made) -> float:
    if made.artwork is None:
        return 0.0
    return next(x.cap_height for x in made.artwork.lettering if x.field == "name")
