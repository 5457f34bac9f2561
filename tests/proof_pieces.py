"""Pieces for the tests of the proof picture: made by hand, and of the designs that ship."""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin

from proofgen.artwork.artwork import Artwork, Layer, Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.designs.design import Mark
from proofgen.faces.collection import Faces
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.weld import weld
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.orders.order import Order, Source
from proofgen.orders.read import typed
from proofgen.resources import folder

FACES = Faces(folder("fonts"))


def lettered(text: str, size: float, at: tuple[float, float], face: str) -> Path:
    """A welded text, `size` mm an em, centred about x, on the baseline y."""
    found = FACES[face]
    glyphs, advance = found.shape(found.normal, text)
    outlines = (found.outline(found.normal, g.id).moved(Affine.shift(g.x, g.y)) for g in glyphs)
    middle = Affine.shift(-advance / 2, 0).then(Affine.scale(size)).then(Affine.shift(*at))
    return weld(outlines).moved(middle)


def lettering(
    field: str, text: str, layer: str, size: float, at: tuple[float, float], face: str
) -> Lettering:
    lines = tuple(SetLine(line, (), at) for line in text.split("\n"))
    outline = lettered(lines[0].text, size, at, face)
    far = float("inf")
    return Lettering(
        field, layer, text, face, (), 0.0, size * 0.7, 1.0, lines, outline, far, far, far
    )


def scalloped(centre: tuple[float, float], radius: float, waves: int) -> Path:
    steps = [2 * pi * i / 720 for i in range(720)]
    reach = [radius + 1.1 * abs(sin(a * waves / 2)) for a in steps]
    return polygon(
        (centre[0] + r * cos(a), centre[1] + r * sin(a)) for a, r in zip(steps, reach, strict=True)
    )


def lantern(
    name: str = "Amélie & Théo",
    inscription: str = "Happy sailing",
    hanger: str = "ribbon",
    finishes: tuple[str, str] = ("walnut", "natural"),
    face: str = "dancing-script",
    quantity: int = 1,
) -> Made:
    """Two layers, 88 x 110 mm: windows in the front one, the name on the front one's band."""
    hole = Mark("cut-inside", circle((44, 9), 2.5), "hanger")
    tab = circle((44, 11), 8.5)
    back = weld([scalloped((44, 62), 43, 48), tab])
    front = weld(
        [
            circle((44, 62), 39),
            circle((44, 11), 5.8),
            polygon([(39, 10), (49, 10), (54, 30), (34, 30)]),
        ]
    )
    windows = [polygon([(x, 32), (x + 10, 30), (x + 10, 46), (x, 46)]) for x in (22, 34, 46, 58)]
    windows += [circle((44, 88), 6), circle((28, 85), 4), circle((60, 85), 4)]
    texts = [lettering("name", name, "front", 11.5, (44, 66), face)]
    if inscription:
        texts.append(lettering("inscription", inscription, "front", 5.4, (44, 75), "vollkorn"))
    texts.append(lettering("year", "2027", "front", 5, (44, 81), "nunito"))
    line = Path(polygon([(18, 52), (70, 52)]).contours)
    border = circle((44, 62), 36)
    marks = (
        *(Mark("engrave-area", text.outline, text.field) for text in texts),
        Mark("engrave-line", border),
        Mark("engrave-line", line),
        *(Mark("cut-inside", window) for window in windows),
        *([hole] if hanger != "none" else []),
        Mark("cut-outside", front),
    )
    rear = (*([hole] if hanger != "none" else []), Mark("cut-outside", back))
    layers = (
        Layer("back", "birch-3", finishes[0], 0, True, (0,), rear),
        Layer("front", "birch-3", finishes[1], 1, False, (0,), marks),
    )
    order = Order("1042", 1, Source("book.xlsx", "Orders", 2), "lantern", quantity=quantity)
    return Made(
        order,
        Artwork(order, "lantern", "Lantern", (88, 110), layers, tuple(texts), hanger),
        (),
        "K7MQ-42TX",
    )


def plaque(name: str = "The Oyelaran Family", finish: str = "natural") -> Made:
    """One layer, 120 x 60 mm, letters cut through."""
    outline = join(
        [polygon([(0, 8), (8, 0), (112, 0), (120, 8), (120, 52), (112, 60), (8, 60), (0, 52)])]
    )
    name_text = lettering("name", name, "plaque", 11, (60, 30), "roboto-slab")
    cut = lettering("year", "2027", "plaque", 15, (60, 52), "saira-stencil")
    marks = (
        Mark("engrave-area", name_text.outline, "name"),
        Mark("cut-inside", cut.outline, "year"),
        Mark("cut-outside", outline),
    )
    order = Order("1043", 2, Source("book.xlsx", "Orders", 3), "plaque", quantity=3)
    layer = Layer("plaque", "birch-3", finish, 0, False, (0,), marks)
    return Made(
        order,
        Artwork(order, "plaque", "Plaque", (120, 60), (layer,), (name_text, cut), "none"),
        (),
        "AB3D-9XYZ",
    )


@cache
def shop() -> Shop:
    return open_shop()


@cache
def shipped(design: str, finish: str, name: str = "Bartholomew") -> Made:
    """A piece as the designs that ship give it."""
    row = {"order": "1044", "design": design, "name": name, "finish": finish}
    return make_row(typed(row, shop().workshop), shop())
