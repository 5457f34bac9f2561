"""What a buyer asks for before there is an order, understood as a row of the book would be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from proofgen.config import nearest
from proofgen.designs.choices import Named, closest, match, quoted
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, finishes, hangers, sizes
from proofgen.designs.read import NO_HANGER
from proofgen.designs.resolve import YEAR
from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.columns import plain
from proofgen.orders.order import Line
from proofgen.orders.read import typed
from proofgen.workshop.workshop import Workshop

# What is chosen, not lettered; and what is said of a choice that there is not.
KINDS = {
    "finish": kinds.FINISH_UNKNOWN,
    "size": kinds.SIZE_UNKNOWN,
    "hanger": kinds.HANGER_UNKNOWN,
    "symbol": kinds.SYMBOL_UNKNOWN,
}
SOMEBODY = "Katherine"  # where no name is asked for, so that the rest can be looked at


@dataclass(frozen=True, slots=True)
class Wish:
    """The texts by column as they were typed, what is chosen by its id; `line` is how all of them
    are read, and `flags` what should be looked at in them.
    """

    texts: Mapping[str, str]
    line: Line

    @property
    def flags(self) -> tuple[Flag, ...]:
        """What a person should look at."""
        return looks(self.line.flags)

    def of(self, design: Template, workshop: Workshop) -> tuple[dict[str, str], tuple[str, ...]]:
        """What of it that design takes, and the columns of what it has no place for."""
        known = {
            column: {each.id for each in _offered(column, design, workshop)} for column in KINDS
        }
        taken = {
            column: text
            for column, text in self.texts.items()
            if (text in known[column] if column in known else column in design.fields)
        }
        left = (column for column in self.texts if column not in taken)
        return taken, tuple(each for each in left if self.texts[each] != NO_HANGER)


def looks(flags: Iterable[Flag]) -> tuple[Flag, ...]:
    """Those for which a person should look first."""
    return tuple(flag for flag in flags if flag.kind.severity is Severity.LOOK)


def wish(told: Iterable[tuple[str, str]], designs: Sequence[Template], workshop: Workshop) -> Wish:
    """The wish for any of these designs, from pairs of column and text.

    UnusableError for a column that none of them has or that stands twice, and for whatever would
    stop a row of the book on all of them.
    """
    texts = _by_column(told, designs)
    for column in texts.keys() & KINDS.keys():
        texts[column] = _chosen(column, texts[column], designs, workshop)
    row = {"order": "CHOICE", "design": designs[0].id, "name": SOMEBODY, **texts}
    line = typed(row, workshop)
    for flag in line.flags:
        if flag.kind.severity is Severity.STOP:
            raise UnusableError(f"{column_of(flag)}: {flag.says}. {flag.to_do}")
    return Wish(texts, line)


def column_of(flag: Flag) -> str:
    """The column that it is about, since there is no row."""
    return flag.where.partition(", ")[2] or flag.where


def _by_column(told: Iterable[tuple[str, str]], designs: Sequence[Template]) -> dict[str, str]:
    lettered = (field for design in designs for field in design.fields)
    fields = dict.fromkeys(("name", YEAR, *lettered))
    fields |= dict.fromkeys(KINDS)
    known = {plain(each): each for each in fields}
    texts: dict[str, str] = {}
    for label, text in told:
        column = known.get(plain(label))
        if column is None:
            raise UnusableError(
                f"no design of the catalogue takes {quoted(label)}; {nearest(label, fields)}"
            )
        if column in texts:
            raise UnusableError(
                f"{column} is asked for twice, {quoted(texts[column])} and {quoted(text)}; "
                "take one of them out."
            )
        texts[column] = text
    return texts


def _offered(column: str, design: Template, workshop: Workshop) -> Sequence[Named]:
    """What that design lets a row choose; nothing where it has no place for it."""
    if column == "finish":
        return finishes(design, workshop)
    if column == "hanger":
        return hangers(design, workshop)
    if column == "size":
        return sizes(design) if design.sizes else ()
    return (*design.symbol_drawings, NOTHING) if design.symbol_slots else ()


def _chosen(column: str, text: str, designs: Sequence[Template], workshop: Workshop) -> str:
    """The id of what is meant; UnusableError where no design offers it."""
    offered = {each.id: each for design in designs for each in _offered(column, design, workshop)}
    found = match(text, (*offered.values(), NOTHING) if column == "hanger" else offered.values())
    if found:
        return found.id
    if not offered:
        raise UnusableError(f"no design of the catalogue has a place for a {column}; leave it out.")
    listed = ", ".join(each.title for each in offered.values())
    likely = closest(text, offered.values())
    way = "--finish" if column == "finish" else f"--text {column}=…"
    rest = f"Take one of these, or leave {way} out."
    remedy = f"Type {likely}, if that is meant." if likely else rest
    raise UnusableError(Flag(KINDS[column], column, quoted(text), listed, remedy=remedy).text)
