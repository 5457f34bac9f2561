"""Flags: what is found about a row, with its numbers and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

Value = float | str | None


class Severity(StrEnum):
    """How grave a flag is, mildest first."""

    NOTE = "note"
    LOOK = "look"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """0 for the mildest."""
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True)
class FlagKind:
    """One kind of flag. `says` may hold {measured}, {limit}, {subject}; `do` starts with a verb."""

    id: str
    severity: Severity
    says: str
    do: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding. `where` reads like "row 12, name (B12)"; lengths are in millimetres."""

    kind: FlagKind
    where: str
    measured: Value = None
    limit: Value = None
    subject: str = ""
    remedy: str = ""

    @property
    def text(self) -> str:
        """The whole sentence, ending with what to do."""
        return f"{self.where}: {self.says}. {self.to_do}"

    @property
    def says(self) -> str:
        """What was found, without where and what to do."""
        measured, limit = _apart(self.measured, self.limit)
        return self.kind.says.format(measured=measured, limit=limit, subject=self.subject)

    @property
    def to_do(self) -> str:
        """What was computed to help, else what helps in general."""
        return self.remedy or self.kind.do


def stops(flags: Iterable[Flag]) -> bool:
    """Whether any of them stops the row, or the design."""
    return any(flag.kind.severity is Severity.STOP for flag in flags)


def verdict(flags: Iterable[Flag]) -> str:
    """`ready`, `look` or `stop`: that of the gravest flag; notes leave a row ready."""
    gravest = max(
        (flag.kind.severity for flag in flags), key=lambda s: s.rank, default=Severity.NOTE
    )
    return "ready" if gravest is Severity.NOTE else gravest.value


def _apart(measured: Value, limit: Value) -> tuple[str, str]:
    """Both values as text, with as many decimals as it takes to tell them apart."""
    if isinstance(measured, float) and isinstance(limit, float):
        for decimals in range(2, 8):
            pair = f"{measured:.{decimals}f}", f"{limit:.{decimals}f}"
            if pair[0] != pair[1] or measured == limit:
                return pair
    return _text(measured), _text(limit)


def _text(value: Value) -> str:
    if value is None:
        return ""
    return f"{value:.2f}" if isinstance(value, float) else value
