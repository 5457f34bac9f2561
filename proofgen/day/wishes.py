"""What a buyer asks for before there is an order, understood as a row of the book would be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from proofgen.config import nearest
from proofgen.designs.choices import closest, match, quoted
from proofgen.designs.design import Template
from proofgen.designs.offered import finishes
from proofgen.designs.resolve import YEAR
from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.columns import plain
from proofgen.orders.order import Line
from proofgen.orders.read import typed
from proofgen.workshop.workshop import Workshop

FINISH = "finish"
SOMEBODY = "Katherine"  # where no name is asked for, so that the rest can be looked at


@dataclass(frozen=True, slots=True)
class Wish:
    """The texts by column as they were typed, the finish by its id; `line` is how all of them are
    read, and `flags` what should be looked at in them.
    """

    texts: Mapping[str, str]
    line: Line

    @property
    def flags(self) -> tuple[Flag, ...]:
        """What a person should look at."""
        return looks(self.line.flags)

    def of(self, design: Template, workshop: Workshop) -> tuple[dict[str, str], tuple[str, ...]]:
        """What of it that design takes, and the columns of what it has no place for."""
        offered = {finish.id for finish in finishes(design, workshop)}
        taken = {
            column: text
            for column, text in self.texts.items()
            if (text in offered if column == FINISH else column in design.fields)
        }
        return taken, tuple(column for column in self.texts if column not in taken)


def looks(flags: Iterable[Flag]) -> tuple[Flag, ...]:
    """Those for which a person should look first."""
    return tuple(flag for flag in flags if flag.kind.severity is Severity.LOOK)


def wish(told: Iterable[tuple[str, str]], designs: Sequence[Template], workshop: Workshop) -> Wish:
    """The wish for any of these designs, from pairs of column and text.

    UnusableError for a column that none of them has or that stands twice, and for whatever would
    stop a row of the book on all of them.
    """
    texts = _by_column(told, designs)
    if FINISH in texts:
        texts[FINISH] = _finish(texts[FINISH], designs, workshop)
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
    known = {plain(each): each for each in (*fields, FINISH)}
    texts: dict[str, str] = {}
    for label, text in told:
        column = known.get(plain(label))
        if column is None:
            raise UnusableError(
                f"no design of the catalogue has a field {quoted(label)}; {nearest(label, fields)}"
            )
        if column in texts:
            raise UnusableError(
                f"{column} is asked for twice, {quoted(texts[column])} and {quoted(text)}; "
                "take one of them out."
            )
        texts[column] = text
    return texts


def _finish(text: str, designs: Sequence[Template], workshop: Workshop) -> str:
    """The id of the finish that is meant."""
    offered = {each.id: each for design in designs for each in finishes(design, workshop)}
    found = match(text, offered.values())
    if found:
        return found.id
    listed = ", ".join(finish.title for finish in offered.values())
    likely = closest(text, offered.values())
    remedy = f"Type {likely}, if that is meant." if likely else ""
    raise UnusableError(
        Flag(kinds.FINISH_UNKNOWN, FINISH, quoted(text), listed, remedy=remedy).text
    )
