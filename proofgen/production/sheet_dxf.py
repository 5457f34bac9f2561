"""A sheet as DXF, by ezdxf: R2000, millimetres, y up, one DXF layer for each operation.

DXF R2000 knows a table of 255 colours, so each group takes the nearest that is free.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf import colors
from ezdxf.document import Drawing

from proofgen.production.dxf_entities import entity
from proofgen.production.steps import Plan
from proofgen.workshop.workshop import OPERATIONS, Colour, Workshop

MILLIMETRES = 4  # $INSUNITS, DXF Reference
ENTITIES = "SECTION\n  2\nENTITIES\n"  # what ezdxf begins their section with
# Characters that a layer's name may not hold in R2000.
FORBIDDEN = str.maketrans(dict.fromkeys('<>/\\":;?*|=`,', "-"))


def sheet_dxf(plan: Plan, workshop: Workshop, parts: str = "all") -> bytes:
    """The sheet's engraving ("engrave"), its cuts ("cut") or all of it, the same bytes each time.

    The origin is the sheet's lower left corner, for every part.
    """
    with _same_bytes():
        doc = ezdxf.new("R2000", units=MILLIMETRES)
        doc.header["$EXTMIN"], doc.header["$EXTMAX"] = (0, 0, 0), (plan.width, plan.height, 0)
        doc.header["$LIMMIN"], doc.header["$LIMMAX"] = (0, 0), (plan.width, plan.height)
        layers = _layers(doc, workshop)
        steps = plan.part(parts).steps
        drawn = [(layers[step.operation], c) for step in steps for c in step.path.contours]
        handles, owner = doc.entitydb.handles, doc.modelspace().layout_key
        first = int(str(handles), 16)
        handles.reset(f"{first + len(drawn):X}")
        entities = (
            entity(contour, layer, plan.height, first + number, owner)
            for number, (layer, contour) in enumerate(drawn)
        )
        out = io.StringIO()
        doc.write(out)
        before, begin, after = out.getvalue().partition(ENTITIES)
        return doc.encode("".join((before, begin, *entities, after)))


@contextmanager
def _same_bytes() -> Iterator[None]:
    """Meanwhile ezdxf puts in neither the time nor random numbers."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _layers(doc: Drawing, workshop: Workshop) -> dict[str, str]:
    """A layer for each operation, named and coloured as its group."""
    names: dict[str, str] = {}
    taken: list[int] = []
    for operation in OPERATIONS:
        group = workshop.group(operation)
        name = group.name.translate(FORBIDDEN).strip()
        alike = [other.casefold() for other in (*names.values(), "0", "defpoints", "")]
        names[operation] = f"{name} {operation}".strip() if name.casefold() in alike else name
        taken.append(_nearest(group.colour, taken))
        doc.layers.add(names[operation], color=taken[-1])
    return names


def _nearest(colour: Colour, taken: list[int]) -> int:
    """The free number of AutoCAD's colour table that is nearest; 7 is black or white at will."""

    def away(number: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(colors.aci2rgb(number), colour, strict=True))

    return min((n for n in range(1, 255) if n != 7 and n not in taken), key=away)
