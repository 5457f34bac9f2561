"""The first answer to a buyer: one name on every design of the catalogue; or, without a name, the
advert of the season.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from proofgen.artwork.artwork import Made
from proofgen.day.rows import Options, home_in, shop_of
from proofgen.day.sets import check_no_proof
from proofgen.day.shop import Shop, make_row
from proofgen.day.wishes import KINDS, SOMEBODY, Wish, column_of, looks, wish
from proofgen.designs.design import Template
from proofgen.designs.resolve import YEAR
from proofgen.desk.asking import listed
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.read import typed
from proofgen.orders.text import in_words
from proofgen.workshop.workshop import USUAL_MESSAGE, Workshop

if TYPE_CHECKING:
    from proofgen.proofs.gallery import Sign

MOST = 6  # too many choices lose the sale: common practice, no source
# On an advert each piece has a name of its own.
NAMES = (SOMEBODY, "Ines", "Oskar", "Marguerite", "Tomasz", "Leila")


@dataclass(frozen=True, slots=True)
class Choice:
    """A design that was tried; `number` is that in the picture, 0 where the text does not fit;
    `without` are the columns of the wish that it has no place for.
    """

    number: int
    made: Made
    title: str
    price: str
    without: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """What was drawn and after which workshop file, the wish and the designs that were tried, those
    that are more than a picture shows; `broken` says by id why another one cannot be tried.
    """

    picture: Path
    source: str
    wish: Wish
    tried: tuple[Choice, ...]
    left_out: tuple[str, ...]
    broken: tuple[tuple[str, str], ...]


def choices(told: Iterable[tuple[str, str]], out: Path | None, options: Options) -> Choices:
    """Write the picture; `told` are pairs of column and text, without a name for the advert.

    UnusableError where nothing fits on any design, or the wish cannot be understood.
    """
    if out and out.suffix.lower() != ".png":
        raise UnusableError(f"{out}: the picture is a PNG; give it a name that ends in .png.")
    folder = Path.cwd()
    shop = shop_of(home_in(folder, options))
    designs = _catalogue(shop)
    asked = wish(told, designs, shop.workshop)
    tried = _tried(designs[:MOST], asked, shop)
    if not any(choice.number for choice in tried):
        said = "\n".join(f"-  {choice.title}: {reason(choice)}" for choice in tried)
        name = asked.texts.get("name", "")
        raise UnusableError(f'"{name}" fits on no design of the catalogue.\n{said}')
    path = out or folder / ("choices.png" if "name" in asked.texts else "advert.png")
    check_no_proof(path)
    write_bytes(path, _picture(tried, asked, shop.workshop))
    left_out = tuple(design.id for design in designs[MOST:])
    return Choices(path, shop.workshop.source, asked, tried, left_out, _broken(shop))


def _catalogue(shop: Shop) -> Sequence[Template]:
    """The designs in the order of the workshop file; UnusableError for one that there is not.

    Where the file names none they are all, but for those with a message of their own: what is
    said of them is not said beside the others.
    """
    wanted = shop.workshop.catalogue
    for each in (*wanted.designs, *dict(wanted.prices)):
        if each not in shop.templates:
            known = f"there is no design {each!r}; there are {', '.join(shop.templates)}."
            fault = shop.broken.get(each)
            what = f"the design {each!r} cannot be used: {fault}" if fault else known
            raise UnusableError(f"{shop.workshop.source}, catalogue: {what}")
    if wanted.designs:
        return [shop.templates[each] for each in wanted.designs]
    return [each for each in shop.templates.values() if each.message == USUAL_MESSAGE]


def _broken(shop: Shop) -> tuple[tuple[str, str], ...]:
    """The designs that would be tried if they could be read, with what is wrong with each."""
    if shop.workshop.catalogue.designs:
        return ()
    return tuple((each, said) for each, said in shop.broken.items() if each not in shop.templates)


def _tried(designs: Sequence[Template], asked: Wish, shop: Shop) -> tuple[Choice, ...]:
    found: list[Choice] = []
    currency = shop.workshop.selling.currency
    number = 0
    for design, name in zip(designs, NAMES, strict=False):
        taken, without = asked.of(design, shop.workshop)
        row = {"order": "CHOICE", "design": design.id, "name": name, **taken}
        made = make_row(typed(row, shop.workshop), shop)
        fits = made.artwork is not None and made.verdict != "stop"
        number += fits
        each = listed(made.order, shop.templates, shop.workshop)
        if each is not None and each <= 0:
            raise UnusableError(
                f"{shop.workshop.source}, catalogue: with what is asked for the design {design.id} "
                f"would cost nothing; look at its price and at [catalogue.options]."
            )
        price = "" if each is None else f"{currency}{each:f}"
        found.append(Choice(number if fits else 0, made, design.title, price, without))
    return tuple(found)


def reason(choice: Choice) -> str:
    """Why a design cannot be had, with what would help."""
    flag = next(each for each in choice.made.flags if each.kind.severity is Severity.STOP)
    return f"{flag.says}. {flag.to_do}"


def _picture(tried: Sequence[Choice], asked: Wish, workshop: Workshop) -> bytes:
    from proofgen.proofs.caption import measured
    from proofgen.proofs.gallery import gallery_png
    from proofgen.proofs.labels import Exhibit
    from proofgen.proofs.scene import scene

    exhibits = []
    unpriced = workshop.catalogue.unpriced if any(choice.price for choice in tried) else ""
    for choice in tried:
        artwork = choice.made.artwork
        if not choice.number or artwork is None:
            continue
        size = measured(artwork.extent, workshop.proofs.inches)
        price = choice.price or unpriced
        foot = (*([price] if price else []), *size, *_missing(choice))
        shown = scene(artwork, workshop)
        if "name" not in asked.texts:
            shown = replace(shown, watermark=False)
        exhibits.append(Exhibit(shown, choice.title, foot, number=str(choice.number)))
    return gallery_png(exhibits, _sign(asked, tried, workshop), False, {})


def _missing(choice: Choice) -> tuple[str, ...]:
    """What of the wish a piece is shown without, for its buyer."""
    parts = [f"that {each}" if each in KINDS else each for each in choice.without]
    return (f"without {in_words(parts)}",) if parts else ()


def _sign(asked: Wish, tried: Sequence[Choice], workshop: Workshop) -> Sign:
    """The year only where a piece that is shown letters it, and a question where there are two."""
    from proofgen.proofs.caption import NOTE
    from proofgen.proofs.gallery import Sign

    shown = [choice.made.artwork for choice in tried if choice.number and choice.made.artwork]
    dated = any(each.field == YEAR for artwork in shown for each in artwork.lettering)
    year = asked.line.order.field(YEAR) if dated else ""
    if "name" not in asked.texts:
        return Sign(workshop.title, year, "each with your own name; grain and tone vary")
    name = asked.line.order.called
    if len(shown) > 1:
        return Sign(f"For {name}", f"Which one for {year}?" if year else "Which one?", NOTE)
    return Sign(f"For {name}", year, NOTE)


def as_text(found: Choices) -> str:
    """A line per design with what to look at in it; what was left out, where the picture is."""
    lines = [_look(flag) for flag in found.wish.flags]
    unpriced = "no price in [catalogue.prices]" if any(c.price for c in found.tried) else ""
    for choice in found.tried:
        said = (choice.price or unpriced) if choice.number else reason(choice)
        lines.append(f"{choice.number or '-'}  {choice.title}" + (f": {said}" if said else ""))
        if choice.number and choice.without:
            lines.append(f"   has no place for {in_words(choice.without)}")
        own = (flag for flag in looks(choice.made.flags) if flag not in found.wish.flags)
        lines += [f"   {_look(flag)}" for flag in own if choice.number]
    lines += [f"-  {design}: cannot be used: {fault}" for design, fault in found.broken]
    if found.left_out:
        lines.append(
            f"not shown, because more than {MOST} are too many to choose from: "
            f"{', '.join(found.left_out)}; name those to show in the workshop file, [catalogue]."
        )
    return "\n".join([*lines, f"picture in {found.picture}, after {found.source}"])


def _look(flag: Flag) -> str:
    return f"look: {column_of(flag)}: {flag.says}. {flag.to_do}"
