"""What is printed about a season: for a person, or one JSON object for a program."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from proofgen.told.printed import as_object

if TYPE_CHECKING:
    from proofgen.books.season import Report
    from proofgen.season.figures import Group

_VERSION = 1


def as_text(report: Report) -> str:
    """The key figures, and where the rest is."""
    from proofgen.season.words import CAUTION, key_figures

    lines: list[str] = []
    for what, value, money in key_figures(report.season, report.told):
        if value is not None:
            lines.append(f"{what}: {report.told.sum(Decimal(value)) if money else value}")
    return "\n".join([*lines, f"page in {report.page}", f"workbook in {report.workbook}", CAUTION])


def as_json(report: Report) -> str:
    """All figures; sums of money are texts, so that no program rounds them."""
    season = report.season
    value = {
        "version": _VERSION,
        "page": str(report.page),
        "workbook": str(report.workbook),
        "rows": len(season.rows),
        "sold": _group(season.whole),
        "designs": [_group(each) for each in season.designs],
        "weeks": [_group(each) for each in season.weeks],
        "verdicts": dict(season.verdicts),
        "found": {each.kind.id: each.names for each in season.found},
        "pictures": season.pictures,
        "approvals": season.approvals,
        "proofs": dict(season.proofs),
        "days": {"middle": season.middle, "orders": dict(season.days)},
        "losses": {
            "good": season.losses.good,
            "spoiled": season.losses.spoiled,
            "reasons": dict(season.losses.reasons),
        },
    }
    return as_object(value)


def _group(group: Group) -> dict[str, Any]:
    account = group.account
    return {
        "what": group.label,
        "orders": group.orders,
        "pieces": group.pieces,
        "reckoned": group.reckoned,
        "income": str(account.income),
        "cost": str(account.cost),
        "profit": str(account.profit),
    }
