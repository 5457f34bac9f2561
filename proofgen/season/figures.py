"""What a season comes to, by design and by week; names, proofs, days."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from math import ceil
from statistics import median

from proofgen.flags.flag import FlagKind
from proofgen.money.account import Account, total
from proofgen.sheets.losses import Losses

VERDICTS = ("ready", "look", "stop")
NO_DAY = "no date"
WEEK = timedelta(days=7)
_MOST_WEEKS = 60  # a longer span comes from a mistyped year, and its empty weeks say nothing
_LAST_DAYS = 84  # whatever took longer is one group

Counts = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the book. `flags` are the kinds of what was found, each once; `asked` is the day
    when the order came, `sold` that it is approved or made; no account where none can be reckoned.
    """

    order: str
    number: int
    name: str
    design: str
    pieces: int
    verdict: str
    flags: tuple[FlagKind, ...]
    sold: bool
    asked: date | None
    account: Account | None


@dataclass(frozen=True, slots=True)
class Passage:
    """The way of an order: its pictures until the last approval, its approved lines, the days from
    being asked for to the hand-over, None where either is not known.
    """

    order: str
    pictures: int
    approvals: int
    days: int | None


@dataclass(frozen=True, slots=True)
class Group:
    """What was sold of a design or in a week; `account` is that of the `reckoned` pieces."""

    label: str
    orders: int
    pieces: int
    reckoned: int
    account: Account


@dataclass(frozen=True, slots=True)
class Found:
    """In how many rows something was found."""

    kind: FlagKind
    names: int


@dataclass(frozen=True, slots=True)
class Season:
    """All figures. `whole` is all that was sold, `proofs` counts orders by pictures an approval,
    `days` orders by days, with the middle one, None where there is none.
    """

    rows: tuple[Row, ...]
    whole: Group
    designs: tuple[Group, ...]
    weeks: tuple[Group, ...]
    verdicts: Counts
    found: tuple[Found, ...]
    proofs: Counts
    pictures: int
    approvals: int
    days: Counts
    middle: float | None
    losses: Losses


def figures(rows: Sequence[Row], passages: Iterable[Passage], losses: Losses) -> Season:
    """The season of these rows."""
    sold = [row for row in rows if row.sold]
    ways = [way for way in passages if way.approvals]
    days = [way.days for way in passages if way.days is not None]
    designs = _groups(sold, lambda row: row.design)
    verdicts = Counter(row.verdict for row in rows)
    return Season(
        rows=tuple(rows),
        whole=_group("all", sold),
        designs=tuple(sorted(designs, key=lambda group: (-group.pieces, group.label))),
        weeks=_weeks(sold),
        verdicts=tuple((verdict, verdicts[verdict]) for verdict in VERDICTS),
        found=_found(rows),
        proofs=_proofs(ways),
        pictures=sum(way.pictures for way in ways),
        approvals=sum(way.approvals for way in ways),
        days=_days(days),
        middle=median(days) if days else None,
        losses=losses,
    )


def _group(label: str, rows: Sequence[Row]) -> Group:
    accounts = [row.account for row in rows if row.account]
    whole = total(accounts)
    orders = len({row.order for row in rows})
    return Group(label, orders, sum(row.pieces for row in rows), whole.pieces, whole)


def _groups(rows: Iterable[Row], label: Callable[[Row], str]) -> list[Group]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(label(row), []).append(row)
    return [_group(name, own) for name, own in found.items()]


def _weeks(sold: Sequence[Row]) -> tuple[Group, ...]:
    """By the Monday of each week, empty ones among them; last what has no day."""
    found = {group.label: group for group in _groups(sold, _week)}
    undated = found.pop(NO_DAY, None)
    mondays = sorted(found)
    if mondays:
        first, last = date.fromisoformat(mondays[0]), date.fromisoformat(mondays[-1])
        count = (last - first) // WEEK + 1
        if count <= _MOST_WEEKS:
            mondays = [(first + WEEK * i).isoformat() for i in range(count)]
    weeks = [found.get(monday) or _group(monday, ()) for monday in mondays]
    return (*weeks, undated) if undated else tuple(weeks)


def _week(row: Row) -> str:
    if row.asked is None:
        return NO_DAY
    return (row.asked - timedelta(days=row.asked.weekday())).isoformat()


def _found(rows: Iterable[Row]) -> tuple[Found, ...]:
    counts = Counter(kind.id for row in rows for kind in row.flags)
    kinds = {kind.id: kind for row in rows for kind in row.flags}
    ranked = sorted(counts, key=lambda each: (-kinds[each].severity.rank, -counts[each], each))
    return tuple(Found(kinds[each], counts[each]) for each in ranked)


def _proofs(ways: Iterable[Passage]) -> Counts:
    """Orders by their pictures for each approval, rounded up."""
    counts = Counter(ceil(way.pictures / way.approvals) for way in ways)
    most = max(counts, default=0)
    return tuple((f"{n} picture{'' if n == 1 else 's'}", counts[n]) for n in range(1, most + 1))


def _days(days: Iterable[int]) -> Counts:
    """Orders by weeks of days, up to the last that is there."""
    counts = Counter(max(ceil(min(each, _LAST_DAYS + 1) / 7), 1) for each in days)
    most = max(counts, default=0)
    return tuple((_span(week), counts[week]) for week in range(1, most + 1))


def _span(week: int) -> str:
    low = 0 if week == 1 else week * 7 - 6
    return f"more than {_LAST_DAYS} days" if low > _LAST_DAYS else f"{low} to {week * 7} days"


def profit(group: Group) -> Decimal:
    """What is left of a group, as far as it is reckoned."""
    return group.account.profit
