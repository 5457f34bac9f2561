"""What is printed about sheets: for a person, or one JSON object for a program."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from proofgen.making.sheet_files import label
from proofgen.nesting.part import FAILURE, HURRY, INTERRUPTION, NO_ENGINE, Board
from proofgen.production.clock import recommended
from proofgen.told.printed import as_object
from proofgen.told.quicker import asked_for
from proofgen.told.stock import TIMES, size_of, wood_title

if TYPE_CHECKING:
    from proofgen.making.sheet_files import Planned
    from proofgen.making.sheets import Sheets
    from proofgen.production.clock import Times
    from proofgen.sheets.job import Job
    from proofgen.workshop.boards import BoardSize

_VERSION = 1
_ENDED = {
    HURRY: "laid in a hurry: without --seconds the search goes on until nothing better is found",
    INTERRUPTION: "the search was interrupted: these are the best found by then; without an "
    "interruption the same command searches again",
    FAILURE: "a search failed, which may take more boards: close other programs if memory is "
    "short; the same command searches again",
    NO_ENGINE: "laid plainly, which may take more boards: the packing library spyrrow is not "
    "installed here (pip install spyrrow)",
}
CAUTION = "Stay with the machine while it runs, with the extraction on; mind its manual."


def as_text(found: Sheets) -> str:
    """What to pull, each sheet with its times, what to cut ahead."""
    lines = [*filter(None, [found.mended]), *_pulled(found), *_too_large(found), *found.aside]
    for sheet in found.planned:
        lines += _sheet(sheet, found)
    lines += (
        f"order {', '.join(orders)} lies on {sheet} too: do not cut that board; sheets without "
        "--order lays anew what is still wanted of it"
        for sheet, orders in found.laying.twice.items()
    )
    lines += _advice(found)
    count = len(found.planned)
    area, room = sum(_filled(s) for s in found.planned), sum(_board(s.job) for s in found.planned)
    share = f", {area / room:.0%} filled" if room else ""
    total = sum(sheet.expected.total for sheet in found.planned)
    lines.append(f"{_count(count, 'sheet')}{share}, {_minutes(total)} on the machine")
    if found.planned and found.laying.ended:
        lines.append(_ENDED[found.laying.ended])
    if found.planned:
        folder = next(iter(found.files.values()))[0].parent
        lines += [f"files in {folder}", _origin(found), CAUTION]
    if found.jobs:
        lines.append(
            f"what to do at the bench: {found.jobs[0]}, or {found.jobs[1].name} on a screen"
        )
    if found.earlier:
        lines.append(
            f"{_count(len(found.earlier), 'earlier file')} moved to {found.earlier[0].parent}"
        )
    return "\n".join(lines)


def _origin(found: Sheets) -> str:
    kinds = {path.suffix for paths in found.files.values() for path in paths}
    top, lower = "the board's top left corner", "the board's lower left corner"
    if kinds == {".dxf"}:
        return f"the origin is {lower}"
    return f"the origin is {top}" + (f"; in the DXF files {lower}" if ".dxf" in kinds else "")


def as_json(found: Sheets) -> str:
    """The same, in full: lengths in millimetres, seconds, paths absolute."""
    return as_object(
        {
            "version": _VERSION,
            "pull": [{"layer": title, "count": n} for title, n in _by_shelf(found).items()],
            "too_large": [want.key for want in found.laying.too_large],
            "sheets": [_as_dict(sheet, found) for sheet in found.planned],
            "ahead": [
                {
                    "layer": each.shelf.title,
                    "ordered": each.ordered,
                    "weekly": round(each.weekly, 2),
                    "stock": each.stock,
                    "coming": each.coming,
                    "cut": each.cut,
                    "dated": each.shelf.dated,
                }
                for each in found.laying.advice
            ],
            "earlier": [str(path) for path in found.earlier],
            "jobs": [str(path) for path in found.jobs],
            "mended": found.mended or None,
            "aside": list(found.aside),
            "lies_twice": [
                {"sheet": sheet, "orders": list(orders)}
                for sheet, orders in found.laying.twice.items()
            ],
            "search_ended_by": found.laying.ended or None,
        }
    )


def _pulled(found: Sheets) -> Iterator[str]:
    for title, count in _by_shelf(found).items():
        yield f"pull from stock: {count} {TIMES} {title}"


def _by_shelf(found: Sheets) -> Counter[str]:
    shelves = found.laying.shelves
    return Counter(shelves[want.stock].title for want in found.laying.pulled)


def _too_large(found: Sheets) -> Iterator[str]:
    from proofgen.nesting.shape import fits_alone, shape_of

    barred: Counter[str] = Counter()
    for want in found.laying.too_large:
        board = found.workshop.material(want.layer.material).board
        if board.keep_out and fits_alone(shape_of(want.part()), _bare(board)):
            barred[want.layer.material] += 1
            continue
        box = want.part().outline.bounds()
        size = size_of(box.width, box.height)
        yield (
            f"stop: order {want.number}, {want.name}, {want.layer.name}: {size} fits on no board "
            f"of {want.layer.material}; enter a larger one in the workshop file, as [board]"
        )
    wants = found.laying.wants.values()
    turned = {w.layer.material for w in wants if any(m.side == "back" for m in w.layer.marks)}
    for material, count in barred.items():
        both = " on both sides, as it is turned over for a back" if material in turned else ""
        alone = ", or lay orders without a back alone (--order)" if both else ""
        yield (
            f"stop: {_count(count, 'layer')} would fit on a board of {material}, but not beside "
            f"its keep_out{both}; make these places smaller in the workshop file, as [board]{alone}"
        )


def _bare(size: BoardSize) -> Board:
    """The board as if it kept nothing out."""
    return Board(size.width, size.height, size.margin, size.gap)


def _sheet(sheet: Planned, found: Sheets) -> Iterator[str]:
    job, workshop = sheet.job, found.workshop
    uses = f" (remainder {job.uses})" if job.uses else ""
    uses = " (the board that was begun)" if job.id in found.laying.begun else uses
    yield (
        f"{job.id}  {wood_title(job.wood, workshop)}, {size_of(job.width, job.height)}{uses}: "
        f"{_count(len(job.lies), 'layer')}, {_filled(sheet) / _board(job):.0%} filled"
    )
    # The files of a board that was begun stay as they are.
    quickest = sheet.expected if job.id in found.laying.begun else recommended(sheet.times)
    asked = asked_for(sheet, quickest.way)
    for times in sheet.times:
        mark = "  as written" if times is sheet.expected else ""
        if asked and times is quickest and times is not sheet.expected:
            mark = f"  quicker: {asked}"
        mark = mark if times.acceptable else "  would engrave on loose pieces"
        yield f"    {times.way:17} {_minutes(times.total):>9} ({_parts(times)}){mark}"
    if sheet.back:
        yield f"    engrave {job.id}-back first, the board turned over left to right"
    for lies in sheet.in_order():
        if lies.unasked:
            yield f"    asked for no more: {label(lies)}"
    if job.leaves:
        # Of a board that an earlier version laid the place is not known.
        where = " where the job sheet shows" if job.rest else ""
        yield f"    what is left, {size_of(*job.leaves)}: pencil {job.remainder} on it{where}"


def _advice(found: Sheets) -> Iterator[str]:
    for each in found.laying.advice:
        if not each.cut:
            continue
        on = f", {each.coming} on boards to be cut" if each.coming else ""
        if found.laying.ahead:
            yield (
                f"not cut ahead: {each.cut} {TIMES} {each.shelf.title}: no approved piece has that "
                "layer to cut it after, or no board is large enough"
            )
            continue
        dies = "; it bears the year and is worth nothing next season" if each.shelf.dated else ""
        yield (
            f"cut ahead: {each.cut} {TIMES} {each.shelf.title} would last another week "
            f"({each.ordered} ordered, {each.weekly:.1f} a week, {each.stock} left{on}){dies}"
        )


def _parts(times: Times) -> str:
    parts = (
        ("engraving", times.engraving), ("cutting", times.cutting),
        ("travel", times.travel), ("pierce", times.pierce),
    )  # fmt: skip
    return ", ".join(f"{name} {_minutes(seconds)}" for name, seconds in parts)


def _as_dict(sheet: Planned, found: Sheets) -> dict[str, Any]:
    job = sheet.job
    return {
        "id": job.id,
        "material": job.wood.material,
        "finish": job.wood.finish or None,
        "width": job.width,
        "height": job.height,
        "remainder_used": job.uses or None,
        "remainder": {"id": job.remainder, "width": job.leaves[0], "height": job.leaves[1]}
        if job.leaves
        else None,
        "filled": round(_filled(sheet) / _board(job), 4),
        "files": [str(path) for path in found.files[job.id]],
        "layers": [
            {
                "order": each.number,
                "line": each.line,
                "code": each.code,
                "name": each.name,
                "copy": each.copy,
                "layer": each.layer,
                "stock": each.ahead,
                "asked": not each.unasked,
            }
            for each in sheet.in_order()
        ],
        "seconds": [
            {
                "way": times.way,
                "engraving": round(times.engraving, 1),
                "cutting": round(times.cutting, 1),
                "travel": round(times.travel, 1),
                "pierce": round(times.pierce, 1),
                "total": round(times.total, 1),
                "acceptable": times.acceptable,
                "quickest": times is recommended(sheet.times),
                "as_written": times is sheet.expected,
            }
            for times in sheet.times
        ],
    }


def _filled(sheet: Planned) -> float:
    from proofgen.geometry.polygons import area

    return sum(area(piece.outline) for piece in sheet.front.pieces)


def _board(job: Job) -> float:
    return job.width * job.height


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.1f} min"
