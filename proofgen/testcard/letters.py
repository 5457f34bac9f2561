"""Words set on the card, curves kept."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.faces.face import Axes, Face
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path, join
from proofgen.lettering.bench import Bench

# What each face shows; open and closed letters and a digit. A face of the maker's own takes the
# first that it has all letters of.
SEA = "Sea 8"
WORDS = {"frank-ruhl-libre": "\u05d9\u05dd 8", "noto-naskh-arabic": "\u0628\u062d\u0631 8"}
NAME = "Al 7"  # what names and years are judged by
PLAIN, HEAVY = "nunito", 800.0


@dataclass(frozen=True, slots=True)
class Label:
    """A number or a title beside a mark: its text and outline, its ink centred on `at` or
    starting there; `series` is the mark's.
    """

    text: str
    outline: Path
    at: Point
    series: str


def sample(face: Face) -> str:
    """The word by which a face is judged, empty where it has no letters for any."""
    words = (WORDS.get(face.id, SEA), *WORDS.values())
    return next((word for word in words if not face.missing(word)), "")


def heavy(bench: Bench) -> tuple[Face, Axes]:
    """The face of numbers and titles, heavy enough to be read at 2 mm."""
    face = bench.faces[PLAIN]
    return face, face.axes(wght=HEAVY)


def written(text: str, face: Face, axes: Axes, cap_height: float, bench: Bench) -> Path:
    """The text at that cap height (mm); its ink starts at x = 0, its baseline is y = 0."""
    cut = bench.cut(face, axes, 1.0)
    em = cap_height / (face.cap_height(axes) or 1.0)
    units = cut.units(text, 0.0)
    line = join(cut.outline(unit.key).moved(Affine.shift(unit.x, 0.0)) for unit in units)
    sized = line.moved(Affine.scale(em))
    return sized.moved(Affine.shift(-sized.bounds().left, 0.0))


def label(text: str, cap_height: float, at: Point, series: str, bench: Bench) -> Label:
    """A text whose ink is centred on x of `at`, its baseline on y."""
    drawn = written(text, *heavy(bench), cap_height, bench)
    shift = Affine.shift(at[0] - drawn.bounds().right / 2, at[1])
    return Label(text, drawn.moved(shift), at, series)


def title(text: str, cap_height: float, at: Point, series: str, bench: Bench) -> Label:
    """A text whose ink starts at x of `at`, its baseline on y."""
    drawn = written(text, *heavy(bench), cap_height, bench)
    return Label(text, drawn.moved(Affine.shift(*at)), at, series)
