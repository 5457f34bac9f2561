"""The physical size of a drawing, by the rules of CSS and SVG."""

from __future__ import annotations

import re

from proofgen.errors import UnusableError

# CSS Values and Units 3, section 6.2: 1 in = 96 px = 25.4 mm; Q is a quarter of a millimetre.
MM_PER = {
    "mm": 1.0,
    "cm": 10.0,
    "Q": 0.25,
    "in": 25.4,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "px": 25.4 / 96,
    "": 25.4 / 96,
}
SMALLEST, LARGEST = 1.0, 2000.0

_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"({_NUMBER})\s*({'|'.join(u for u in MM_PER if u)})?")
# SVG 2, section 8.6: preserveAspectRatio.
_ASPECT = re.compile(r"none|x(Min|Mid|Max)Y(Min|Mid|Max)( (meet|slice))?")


def drawing_size(attributes: dict[str, str], file: str) -> tuple[float, float]:
    """Width and height in millimetres; both must be given, as true lengths."""
    width, height = (_millimetres(attributes, side, file) for side in ("width", "height"))
    for side, value in (("width", width), ("height", height)):
        if not SMALLEST <= value <= LARGEST:
            raise UnusableError(
                f"{file}: its {side} is {value:g} mm; "
                f"a drawing is between {SMALLEST:g} and {LARGEST:g} mm."
            )
    return width, height


def unit_of(attributes: dict[str, str]) -> str:
    """The unit of a width that `drawing_size` has read; a bare number is px."""
    found = _LENGTH.fullmatch(attributes["width"].strip())
    return (found and found[2]) or "px"


def check_view_box(attributes: dict[str, str], file: str) -> None:
    """Refuse a viewBox or preserveAspectRatio that a renderer would have to guess at."""
    box = attributes.get("viewBox")
    if box is not None:
        numbers = re.split(r"[\s,]+", box.strip())
        right = len(numbers) == 4 and all(re.fullmatch(_NUMBER, n) for n in numbers)
        if not right or min(map(float, numbers[2:])) <= 0:
            raise UnusableError(
                f"{file}: its viewBox '{box}' is not four numbers, two of them > 0."
            )
    aspect = " ".join(attributes.get("preserveAspectRatio", "none").split())
    if not _ASPECT.fullmatch(aspect):
        raise UnusableError(f"{file}: its preserveAspectRatio '{aspect}' is not one of SVG's.")


def _millimetres(attributes: dict[str, str], side: str, file: str) -> float:
    text = attributes.get(side, "").strip()
    found = _LENGTH.fullmatch(text)
    if not found:
        raise UnusableError(
            f"{file}: its {side} is '{text}'; give the drawing a {side} in mm, such as 100mm."
        )
    return float(found[1]) * MM_PER[found[2] or ""]
