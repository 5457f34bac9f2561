"""Everything that a row's work needs, loaded once a process, and that work itself."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from proofgen.artwork.artwork import Artwork, Made
from proofgen.artwork.compose import compose, fit_slots
from proofgen.artwork.settle import prepared
from proofgen.cache import cache_folder
from proofgen.checks.contrast import Told, Zone, lettered_zones, low_contrast
from proofgen.checks.cord import long_cord
from proofgen.checks.hanging import tilted
from proofgen.checks.small_parts import small_parts
from proofgen.checks.sound import unsound
from proofgen.config import nearest
from proofgen.day.family import settled_with
from proofgen.day.meaning import meaning, meanings
from proofgen.designs.choices import match
from proofgen.designs.design import Design, Template
from proofgen.designs.read import FILE, design_folders, read_template
from proofgen.designs.read_symbols import SYMBOLS
from proofgen.designs.resolve import find
from proofgen.errors import UnusableError
from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, stops
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Line, Order
from proofgen.records.archive import digest
from proofgen.records.record import Meant, Record, feeding, now
from proofgen.remedies.remedy import with_remedies, with_shortenings
from proofgen.remedies.tries import Tries
from proofgen.resources import folder
from proofgen.workshop.contrast import contrast
from proofgen.workshop.gone import tones
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Finish, Workshop

FACES = "fonts"


@dataclass(frozen=True, slots=True)
class Home:
    """Where a maker's own things are, None where there are none: the workshop file, and a folder
    that may hold designs/, symbols/ and fonts/.
    """

    workshop: Path | None = None
    folder: Path | None = None

    def own(self, name: str) -> tuple[Path, ...]:
        """The maker's folder of that name, if there is one."""
        found = self.folder / name if self.folder else None
        return (found,) if found and found.is_dir() else ()


NOWHERE = Home()


@dataclass(frozen=True, slots=True)
class Shop:
    """The workshop, its designs and its faces; `broken` says by id what is wrong with a design."""

    workshop: Workshop
    templates: Mapping[str, Template]
    bench: Bench
    broken: Mapping[str, str]


def open_shop(home: Home = NOWHERE) -> Shop:
    """Load everything; UnusableError names the file that is wrong, or a title that is taken.

    A design of the maker's own that cannot be read, or that is named as another, stops its rows
    alone.
    """
    workshop = load(home.workshop)
    bench = open_bench(home)
    templates = {
        each.name: open_design(each, home, workshop, bench)
        for each in design_folders((folder("templates"),))
    }
    broken: dict[str, str] = {}
    for each in design_folders(home.own("designs")):
        try:
            template = open_design(each, home, workshop, bench)
            _check_name(template, templates.values())
            templates[each.name] = template
        except UnusableError as error:
            broken[each.name] = str(error).splitlines()[0]
    _check_finishes(workshop, (*templates, *broken))
    return Shop(workshop, dict(sorted(templates.items())), bench, broken)


def _check_name(template: Template, others: Iterable[Template]) -> None:
    """UnusableError where a row could mean this design and another one."""
    for other in others:
        if other.id == template.id:
            raise UnusableError(
                f"{template.folder}: a design of that name ships already; rename the folder."
            )
        if match(template.title, (other,)) or match(template.id, (other,)):
            raise UnusableError(
                f"{template.folder}: the design '{other.id}' has that name or title already; "
                f"rename the folder, or change the title."
            )


def open_bench(home: Home) -> Bench:
    """The faces that ship and the maker's own."""
    own = tuple(each for each in home.own(FACES) if (each / "faces.toml").is_file())
    return Bench(Faces(folder(FACES), *own), MeasureCache(cache_folder()))


def open_design(design: Path, home: Home, workshop: Workshop, bench: Bench) -> Template:
    """One design folder, its faces known; UnusableError for what is wrong in it."""
    template = read_template(design, workshop, home.own(SYMBOLS))
    _check_faces(template, bench.faces)
    return template


def understood(line: Line, shop: Shop) -> Line:
    """The line without a note on its blank year where its design letters none."""
    template, _ = find(shop.templates, line.order.design)
    if template is None or "year" in template.fields:
        return line
    kept = tuple(flag for flag in line.flags if flag.kind is not kinds.YEAR_BLANK)
    return replace(line, flags=kept)


def make_row(line: Line, shop: Shop, kin: tuple[Line, ...] = ()) -> Made:
    """What a row becomes; whatever is wrong with it is in its flags.

    `kin` are the other lines of its order on the same design.
    """
    order, flags = line.order, line.flags
    template, found = find(shop.templates, order.design, order.where("design"))
    fault = shop.broken.get(template.id if template else order.design.casefold())
    if fault:
        unusable = Flag(kinds.DESIGN_BROKEN, order.where("design"), fault.removesuffix("."))
        return Made(order, None, (*flags, unusable))
    if template is None:
        return Made(order, None, (*flags, *found) if order.design else flags)
    if stops(flags):
        tries = Tries({}, shop.workshop, shop.bench)
        return Made(order, None, with_shortenings(order, template, flags, tries))
    design, said = prepared(template, order, shop.workshop, shop.bench)
    flags = (*flags, *said)
    if design is not None:
        flags = (*flags, *unsound(template, order, shop.workshop, shop.bench))
    if design is None or stops(flags):
        return Made(order, None, flags)
    design, beside = settled_with(order, design, template, kin, shop.workshop, shop.bench)
    flags = (*flags, *beside)
    fitted = fit_slots(order, design, shop.workshop, shop.bench)
    others = {} if all(item.lettering for item in fitted) else _sound(order, shop)
    tries = Tries(others, shop.workshop, shop.bench)
    aided = with_remedies(order, template, fitted, tries)
    made = compose(order, design, aided, shop.workshop, shop.bench, flags)
    if made.artwork is None:
        shop.bench.cache.save()
        return made
    told, zones = _told(made.artwork, shop), lettered_zones(design, template)
    faint = tuple(low_contrast(made.artwork, template, zones, shop.workshop, told))
    shop.bench.cache.save()
    cautions = (
        *small_parts(made.artwork, shop.workshop),
        *long_cord(made.artwork, shop.workshop),
        *(tilted(made.artwork, design.layers, shop.workshop) if _own_weight(design) else ()),
    )
    return replace(made, flags=(*made.flags, *faint, *cautions))


def _told(artwork: Artwork, shop: Shop) -> Told:
    """How well engraving is told in zones of this artwork, as pictures show them."""
    from proofgen.proofs.zones import bare, told

    seen = lru_cache(maxsize=1)(lambda shown: bare(artwork, shown, shop.workshop))

    def found(shown: Sequence[Finish], depth: int, zone: Zone) -> float:
        piece = seen(tuple(shown))
        return told(piece, depth, zone, shop.bench.cache) if piece else contrast(shown[depth])

    return found


def _sound(order: Order, shop: Shop) -> dict[str, Template]:
    """The designs that an order could be moved to."""
    return {
        design: each
        for design, each in shop.templates.items()
        if design not in shop.broken and not unsound(each, order, shop.workshop, shop.bench)
    }


def _own_weight(design: Design) -> bool:
    """Whether a row's text moves the middle of its piece."""
    return any(design.grown) or any(slot.made != "engrave" for slot in design.slots)


def picture_record(made: Made, data: bytes, shop: Shop) -> Record:
    """What is kept of a picture of this row, which has artwork; `data` are the bytes of that."""
    order, artwork = made.order, made.artwork
    assert artwork is not None
    return Record(
        number=order.number,
        line=order.line,
        code=made.code,
        cells=feeding(order),
        quantity=order.quantity,
        buyer=order.buyer,
        quoted="" if order.quoted is None else str(order.quoted),
        artwork=digest(data),
        design=artwork.design,
        design_sha256=shop.templates[artwork.design].sha256,
        faces=face_digests(artwork, shop),
        made=now(),
        meant=meanings(order, meaning_in(shop, order)),
        finishes=tones(shop.workshop, (layer.finish for layer in artwork.layers)),
    )


def meaning_in(shop: Shop, order: Order) -> Meant:
    """What the cells of a line, and of pictures of it, mean in a shop."""
    return meaning(order, shop.templates, shop.workshop, shop.bench)


def face_digests(artwork: Artwork, shop: Shop) -> tuple[tuple[str, str], ...]:
    """The faces of an artwork with the SHA-256 of their files as they are now."""
    used = sorted({item.face for item in artwork.lettering})
    return tuple((face, shop.bench.faces[face].sha256) for face in used if face in shop.bench.faces)


def _check_finishes(workshop: Workshop, designs: Collection[str]) -> None:
    for finish in workshop.finishes:
        for design in finish.designs or ():
            if design not in designs:
                raise UnusableError(
                    f"{workshop.source}, finishes.{finish.id}: there is no design {design!r}; "
                    f"{nearest(design, designs)}"
                )


def _check_faces(template: Template, faces: Collection[str]) -> None:
    for slot in template.slots:
        for face in (*slot.faces, *slot.faces_asked):
            if face not in faces:
                place = f"{Path(template.folder) / FILE}, slot {slot.field}"
                raise UnusableError(f"{place}: there is no face '{face}'; {nearest(face, faces)}")
