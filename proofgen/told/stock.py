"""What is printed about stock: for a person, or one JSON object for a program."""

from __future__ import annotations

from typing import TYPE_CHECKING

from proofgen.told.printed import as_object

if TYPE_CHECKING:
    from proofgen.making.stock import Stock
    from proofgen.sheets.want import Wood
    from proofgen.workshop.workshop import Workshop

_VERSION = 1
TIMES = "\N{MULTIPLICATION SIGN}"


def as_text(found: Stock) -> str:
    """What is not taken or given up, then a line a layer, a line a remainder."""
    lines = [f"{count:5}  {shelf.title}" for shelf, count in found.layers]
    lines += [
        f"{each.id}  {wood_title(each.wood, found.workshop)}, {size_of(each.width, each.height)}"
        for each in found.remainders
    ]
    return "\n".join([*found.untaken, *found.given_up, *(lines or ["nothing in stock"])])


def as_json(found: Stock) -> str:
    """The same as one JSON object."""
    return as_object(
        {
            "version": _VERSION,
            "not_taken": list(found.untaken),
            "given_up": list(found.given_up),
            "layers": [
                {"layer": shelf.title, "count": count, "dated": shelf.dated}
                for shelf, count in found.layers
            ],
            "remainders": [
                {
                    "id": each.id,
                    "material": each.wood.material,
                    "finish": each.wood.finish or None,
                    "width": each.width,
                    "height": each.height,
                }
                for each in found.remainders
            ],
        }
    )


def wood_title(wood: Wood, workshop: Workshop) -> str:
    """A kind of board as a person knows it."""
    # What lies there may have left the workshop file since.
    titles = {each.id: each.title for each in workshop.materials}
    titles |= {each.id: each.title for each in workshop.finishes}
    return ", ".join(titles.get(each, each) for each in (wood.material, wood.finish) if each)


def size_of(width: float, height: float) -> str:
    """Millimetres across and down, to the hundredth."""
    return f"{round(width, 2):g} {TIMES} {round(height, 2):g} mm"
