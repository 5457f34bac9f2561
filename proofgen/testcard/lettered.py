"""The faces on the card: a row each, its word at falling sizes."""

from __future__ import annotations

from proofgen.designs.design import Mark
from proofgen.faces.face import Face
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path
from proofgen.lettering.bench import Bench
from proofgen.testcard.letters import NAME, heavy, label, sample, title, written
from proofgen.testcard.part import BELOW, NUMBER, TITLE, Part
from proofgen.testcard.series import JOINED, NAMES, PLAIN, Series, as_printed

FACE = 2.0  # cap height of a face's title
APART = 2.8  # between the rows of one kind and the next title
GAP, LEADING = 2.2, 1.3  # least space between words beside and above each other


def lettered(faces: tuple[Face, ...], corner: Point, bench: Bench) -> Part:
    """Every face in rows: plain ones by the height of their capitals, joined ones by that of x."""
    x = corner[0]
    start = x + max(written(f.title, *heavy(bench), FACE, bench).bounds().right for f in faces)
    plain = tuple(face for face in faces if not face.joined)
    joined = tuple(face for face in faces if face.joined)
    first = _faces(PLAIN, plain, corner, start, bench)
    second = _faces(JOINED, joined, (x, first.foot + APART), start, bench)
    third = _names((x, second.foot + APART), bench)
    parts = (first, second, third)
    return Part(
        tuple(mark for part in parts for mark in part.marks),
        tuple(each for part in parts for each in part.labels),
        max(part.right for part in parts),
        third.foot,
    )


def _names(corner: Point, bench: Bench) -> Part:
    """Letters and a figure at the heights of names and years."""
    x, top = corner
    head = top + TITLE + BELOW + NUMBER
    foot = head + LEADING + max(NAMES.sizes)
    face = heavy(bench)[0]
    marks: list[Mark] = []
    labels = [title(NAMES.title, TITLE, (x, top + TITLE), "", bench)]
    for size in NAMES.sizes:
        word = written(NAME, face, face.normal, size, bench).moved(Affine.shift(x, foot))
        marks.append(Mark("engrave-area", word, NAMES.id))
        middle = word.bounds().centre[0]
        labels.append(label(as_printed(size), NUMBER, (middle, head), NAMES.id, bench))
        x = word.bounds().right + GAP
    return Part(tuple(marks), tuple(labels), x - GAP, foot)


def _faces(
    series: Series, faces: tuple[Face, ...], corner: Point, start: float, bench: Bench
) -> Part:
    """A row a face: its title, then from x = `start` its word at every size, under its number."""
    if not faces:
        return Part((), (), foot=corner[1])
    x, top = corner
    head = top + TITLE + BELOW + NUMBER
    words = [[_word(series, face, size, bench) for size in series.sizes] for face in faces]
    foot = head
    baselines: list[float] = []
    for row in words:
        box = row[0].bounds()
        baselines.append(foot + LEADING - box.top)
        foot = baselines[-1] + box.bottom
    columns: list[tuple[float, float]] = []
    for number in range(len(series.sizes)):
        left = start + GAP
        start = left + max(row[number].bounds().width for row in words)
        columns.append((left, start))
    marks = [
        Mark("engrave-area", word.moved(Affine.shift(left, y)), face.id)
        for face, row, y in zip(faces, words, baselines, strict=True)
        for word, (left, _) in zip(row, columns, strict=True)
    ]
    labels = [title(series.title, TITLE, (x, top + TITLE), "", bench)]
    labels += [
        label(as_printed(size), NUMBER, (sum(column) / 2, head), series.id, bench)
        for size, column in zip(series.sizes, columns, strict=True)
    ]
    labels += [
        title(face.title, FACE, (x, y), "", bench) for face, y in zip(faces, baselines, strict=True)
    ]
    return Part(tuple(marks), tuple(labels), start, foot)


def _word(series: Series, face: Face, size: float, bench: Bench) -> Path:
    """The face's word; `size` is the height of an x in a joined face, else of a capital."""
    x_height, cap_height = (f(face.normal) for f in (face.x_height, face.cap_height))
    if series is JOINED and x_height and cap_height:
        size *= cap_height / x_height
    return written(sample(face), face, face.normal, size, bench)
