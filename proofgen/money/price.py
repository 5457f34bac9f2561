"""What the catalogue asks for a piece."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from proofgen.workshop.workshop import Catalogue


def price(design: str, options: Mapping[str, str], catalogue: Catalogue) -> Decimal | None:
    """The price of a design with its options (size, finish, hanger, symbol: the id chosen).

    None where the catalogue names none for the design; never less than nothing.
    """
    base = dict(catalogue.prices).get(design)
    if base is None:
        return None
    added = (adds for column, each, adds in catalogue.options if options.get(column) == each)
    return max(base + sum(added, Decimal()), Decimal() * base)
