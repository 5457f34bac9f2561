"""The first answer to a buyer: one name on every design of the catalogue; or, without a name, the
advert of the season.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.designs.design import Template
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.flags.flag import Severity
from proofgen.orders.order import Line
from proofgen.orders.read import typed
from proofgen.rows import Options, home_in, shop_of
from proofgen.shop import Shop, make_row
from proofgen.workshop.workshop import Workshop

MOST = 6  # too many choices lose the sale: common practice, no source
# On an advert each piece has a name of its own.
NAMES = ("Katherine", "Ines", "Oskar", "Marguerite", "Tomasz", "Leila")


@dataclass(frozen=True, slots=True)
class Choice:
    """A design that was tried; `number` is that in the picture, 0 where the text does not fit."""

    number: int
    made: Made
    title: str
    price: str


@dataclass(frozen=True, slots=True)
class Choices:
    """What was drawn, what was tried, and the designs that are more than a picture shows."""

    picture: Path
    tried: tuple[Choice, ...]
    left_out: tuple[str, ...]


def choices(texts: Mapping[str, str], out: Path | None, options: Options) -> Choices:
    """Write the picture; `texts` by field, without a name for the advert.

    UnusableError where nothing fits on any design.
    """
    folder = Path.cwd()
    shop = shop_of(home_in(folder, options))
    designs = _catalogue(shop)
    tried = _tried(designs[:MOST], texts, shop)
    if not any(choice.number for choice in tried):
        said = "; ".join(f"{c.title}: {reason(c)}" for c in tried)
        raise UnusableError(f"{texts.get('name', '')!r} fits on no design of the catalogue. {said}")
    path = out or folder / ("choices.png" if "name" in texts else "advert.png")
    write_bytes(path, _picture(tried, texts, shop.workshop))
    return Choices(path, tried, tuple(design.id for design in designs[MOST:]))


def _catalogue(shop: Shop) -> Sequence[Template]:
    """The designs in the order of the workshop file; UnusableError for one that there is not."""
    wanted = shop.workshop.catalogue
    for each in (*wanted.designs, *dict(wanted.prices)):
        if each not in shop.templates:
            raise UnusableError(
                f"{shop.workshop.source}, catalogue: there is no design {each!r}; there are "
                f"{', '.join(shop.templates)}."
            )
    return [shop.templates[each] for each in wanted.designs or shop.templates]


def _tried(designs: Sequence[Template], texts: Mapping[str, str], shop: Shop) -> tuple[Choice, ...]:
    found: list[Choice] = []
    currency, prices = shop.workshop.selling.currency, dict(shop.workshop.catalogue.prices)
    number = 0
    for place, design in enumerate(designs):
        own = {"name": NAMES[place], **texts}
        made = make_row(_line(design, own, shop.workshop), shop)
        fits = made.artwork is not None and made.verdict != "stop"
        number += fits
        price = f"{currency}{prices[design.id]:f}" if design.id in prices else ""
        found.append(Choice(number if fits else 0, made, design.title, price))
    return tuple(found)


def _line(design: Template, texts: Mapping[str, str], workshop: Workshop) -> Line:
    """An order for that design as if it stood in a book; fields that it has not are left out."""
    own = {each: text for each, text in texts.items() if each in design.fields}
    if texts.get("finish") in design.finishes:
        own["finish"] = texts["finish"]
    return typed({"order": "CHOICE", "design": design.id, **own}, workshop)


def reason(choice: Choice) -> str:
    """Why a design cannot be had, with what would help."""
    flag = next(each for each in choice.made.flags if each.kind.severity is Severity.STOP)
    return f"{flag.says}. {flag.to_do}"


def _picture(tried: Sequence[Choice], texts: Mapping[str, str], workshop: Workshop) -> bytes:
    from proofgen.proofs.caption import NOTE, measures
    from proofgen.proofs.gallery import Exhibit, Sign, gallery_png
    from proofgen.proofs.scene import scene

    exhibits = []
    for choice in tried:
        artwork = choice.made.artwork
        if not choice.number or artwork is None:
            continue
        said = [choice.price, measures(artwork.extent, workshop.proofs.inches)]
        foot = "   ".join(part for part in said if part)
        shown = scene(artwork, workshop)
        if "name" not in texts:
            shown = replace(shown, watermark=False)
        exhibits.append(Exhibit(shown, choice.title, foot, number=str(choice.number)))
    edition = str(workshop.edition_year)
    if "name" in texts:
        sign = Sign(f"For {texts['name']}", f"Which one for {edition}?", NOTE)
    else:
        sign = Sign(workshop.title, edition, "each with your own name; grain and tone vary")
    return gallery_png(exhibits, sign, False, {})


def as_text(found: Choices) -> str:
    """A line per design, then what was left out and where the picture is."""
    lines = []
    for choice in found.tried:
        said = choice.price if choice.number else reason(choice)
        lines.append(f"{choice.number or '-'}  {choice.title}" + (f": {said}" if said else ""))
    if found.left_out:
        lines.append(
            f"not shown, because more than {MOST} are too many to choose from: "
            f"{', '.join(found.left_out)}; name those to show in the workshop file, [catalogue]."
        )
    return "\n".join([*lines, f"picture in {found.picture}"])
