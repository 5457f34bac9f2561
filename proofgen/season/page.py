"""The season as one HTML file that needs no network and no script."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from html import escape
from pathlib import Path
from string import Template

from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.season.figures import Counts, Group, Season, profit
from proofgen.season.plots import Bar, bars, columns
from proofgen.season.words import (
    CAUTION,
    DAYS,
    LOST,
    NAMES,
    PROOFS,
    SEVERAL,
    WEEKS,
    Told,
    key_figures,
    sentences,
)

HERE = Path(__file__).parent
MARK = b'content="proofgen season"'
NOTHING = "<p>Nothing yet.</p>"
Plot = Callable[[str, Sequence[Bar]], str]


def check_page(path: Path) -> None:
    """UnusableError if what is there is no page of ours."""
    if path.exists() and MARK not in path.read_bytes()[:4000]:
        raise UnusableError(
            f"{path} is there already and is no season report of ours; rename it or move it away."
        )


def write_page(path: Path, season: Season, told: Told) -> None:
    """Write the page; UnusableError where the file cannot be written."""
    write_bytes(path, page(season, told).encode("utf-8"))


def page(season: Season, told: Told) -> str:
    """The page's text."""
    said = dict(sentences(season))
    sections = (
        _section("Sold", _key_figures(season, told)),
        _section("By design", SEVERAL, _groups("Design", season, season.designs, bars, told)),
        _section("By week", WEEKS, _groups("Week", season, season.weeks, columns, told)),
        _section("Names by verdict", NAMES, _counts("Names by verdict", season.verdicts)),
        _section("What was found in the names", _found(season)),
        _section("Proofs", PROOFS, said["proofs"], _counts("By pictures", season.proofs)),
        _section("Days to the hand-over", DAYS, said["days"], _counts("By days", season.days)),
        _section("Losses", LOST, said["losses"], _counts("Spoiled layers", season.losses.reasons)),
    )
    return Template((HERE / "page.html").read_text(encoding="utf-8")).substitute(
        title=escape(told.title),
        about=escape(f"From {told.book}, on {told.day}."),
        caution=escape(CAUTION),
        style=(HERE / "page.css").read_text(encoding="utf-8"),
        sections="\n".join(sections),
    )


def _section(title: str, *parts: str) -> str:
    """A part of the page; a part that is no element is a paragraph."""
    inner = "\n".join(
        part if part.startswith("<") else f"<p>{escape(part)}</p>" for part in parts if part
    )
    return f"<section>\n<h2>{escape(title)}</h2>\n{inner}\n</section>"


def _key_figures(season: Season, told: Told) -> str:
    pairs = (
        f"<dt>{escape(what)}</dt><dd>{escape(_value(value, told if money else None))}</dd>"
        for what, value, money in key_figures(season, told)
    )
    return f"<dl>{''.join(pairs)}</dl>"


def _value(value: Decimal | int | None, told: Told | None) -> str:
    if value is None:
        return "-"
    return told.sum(Decimal(value)) if told else f"{value}"


def _groups(what: str, season: Season, groups: Sequence[Group], plot: Plot, told: Told) -> str:
    if not groups:
        return NOTHING
    pieces = [Bar(each.label, each.pieces, str(each.pieces)) for each in groups]
    profits = [
        Bar(
            each.label,
            float(profit(each)),
            told.sum(profit(each)),
            "loss" if profit(each) < 0 else "profit",
        )
        for each in groups
    ]
    head = (what, "Orders", "Pieces", "Income", "Cost", "Profit")
    rows = [_cells(each, told) for each in groups if each.pieces]
    foot = _cells(season.whole, told)
    return (
        f"<h3>Pieces</h3>{plot(f'Pieces by {what.lower()}', pieces)}"
        f"<h3>Profit</h3>{plot(f'Profit by {what.lower()}', profits)}"
        f"{_table(f'Table by {what.lower()}', head, rows, foot)}{_missing(season)}"
    )


def _missing(season: Season) -> str:
    """What the amounts leave out."""
    missing = season.whole.pieces - season.whole.reckoned
    if not missing:
        return ""
    return (
        f"<p>Sold and not reckoned: {missing} of {season.whole.pieces} pieces; proofgen money says "
        "why.</p>"
    )


def _cells(group: Group, told: Told) -> tuple[str, ...]:
    account = group.account
    sums = (account.income, account.cost, account.profit)
    return (group.label, str(group.orders), str(group.pieces), *map(told.sum, sums))


def _counts(title: str, counts: Counts) -> str:
    """Bars of whole numbers; those named like a verdict have its colour."""
    if not any(count for _, count in counts):
        return NOTHING
    verdicts = ("ready", "look", "stop")
    rows = [
        Bar(label, count, str(count), label if label in verdicts else "plain")
        for label, count in counts
    ]
    return bars(title, rows)


def _found(season: Season) -> str:
    if not season.found:
        return NOTHING
    rows = [
        Bar(each.kind.id, each.names, str(each.names), each.kind.severity.value)
        for each in season.found
    ]
    told = [
        (each.kind.id, each.kind.severity.value, each.kind.do, str(each.names))
        for each in season.found
    ]
    head = ("What", "Kind", "What helps", "Names")
    table = _table("Table of what was found", head, told, kind="words")
    return f"{bars('Names by what was found', rows)}{table}"


def _table(
    name: str,
    head: Sequence[str],
    rows: Iterable[Sequence[str]],
    foot: Sequence[str] = (),
    kind: str = "numbers",
) -> str:
    """A table that scrolls by itself should it be wider than a phone."""
    titles = "".join(f'<th scope="col">{escape(each)}</th>' for each in head)
    below = f"<tfoot>{_line(foot)}</tfoot>" if foot else ""
    return (
        f'<div class="wide" role="region" aria-label="{escape(name, quote=True)}" tabindex="0">'
        f'<table class="{kind}"><thead><tr>{titles}</tr></thead>'
        f"<tbody>{''.join(map(_line, rows))}</tbody>{below}</table></div>"
    )


def _line(cells: Sequence[str]) -> str:
    first, *rest = (escape(cell) for cell in cells)
    return f'<tr><th scope="row">{first}</th>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>'
