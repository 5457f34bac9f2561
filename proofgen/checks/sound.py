"""Whether a design can be made as it is drawn, asked for each row and reckoned once."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from proofgen.checks.check import drawn
from proofgen.designs.design import Template
from proofgen.designs.offered import chosen
from proofgen.flags import kinds
from proofgen.flags.about_drawings import DRAWN_HOLE_NEAR_EDGE
from proofgen.flags.flag import Flag, Severity
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

GROUP = "designs that are sound"  # in the cache on disk: 1 by what a design was judged by
ROOMS = ("checks", "designs", "geometry")  # whose code judges
PACKAGE = Path(__file__).parents[1]

_faults: dict[str, tuple[Flag, ...]] = {}


def unsound(template: Template, order: Order, workshop: Workshop, bench: Bench) -> tuple[Flag, ...]:
    """A flag where the design cannot be made in the size and with the hanger of this order.

    It tells the first of the findings that stop `designs check`.
    """
    found = _found(_as_chosen(template, order, workshop), workshop, bench)
    if not found:
        return ()
    first, more = found[0], len(found) - 1
    said = f"{first.where}: {first.says}" + (f", and {more} more" if more else "")
    remedy = f"{first.to_do} See `proofgen designs check`."
    where = order.where("design")
    return (Flag(kinds.DESIGN_UNSOUND, where, said, None, template.title, remedy),)


def _as_chosen(template: Template, order: Order, workshop: Workshop) -> Template:
    """The template as if it had no other size and hanger than the row's."""
    ids = chosen(order, template, workshop)
    sizes = tuple(each for each in template.sizes if each[0] == ids.get("size"))
    hanger = ids.get("hanger")
    return replace(template, sizes=sizes, hangers=(hanger,) if hanger else ())


def _found(template: Template, workshop: Workshop, bench: Bench) -> tuple[Flag, ...]:
    """What stops it; a hole near an edge is told by the row itself."""
    key = _key(template, workshop)
    if key in bench.cache.group(GROUP):
        return ()
    if key not in _faults:
        _faults[key] = tuple(
            flag
            for flag in drawn(template, workshop)
            if flag.kind.severity is Severity.STOP and flag.kind is not DRAWN_HOLE_NEAR_EDGE
        )
        if not _faults[key]:
            bench.cache.put(GROUP, key, 1.0)
    return _faults[key]


def _key(template: Template, workshop: Workshop) -> str:
    """A digest of all that the findings depend on."""
    materials = {layer.material: workshop.material(layer.material) for layer in template.layers}
    judged = (template.sha256, template.sizes, template.hangers)
    by = (workshop.machine, workshop.hangers, materials, _code())
    return hashlib.sha256(repr((judged, by)).encode()).hexdigest()


@lru_cache(maxsize=1)
def _code() -> str:
    files = sorted(file for room in ROOMS for file in (PACKAGE / room).glob("*.py"))
    stats = [
        (file.name, stat.st_size, stat.st_mtime_ns) for file in files for stat in [file.stat()]
    ]
    return hashlib.sha256(repr(stats).encode()).hexdigest()
