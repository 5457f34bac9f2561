"""What is done to each piece after it is cut, in the order in which it is done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from proofgen.jobsheet.data import BEFORE, LATER, NOWHERE, STOCK, Step, Tray
from proofgen.workshop.workshop import Finish, Hanger, Workshop

STAIN_FIRST, CUT, CLEAN, STAIN, GLUE, LACQUER, HANG, PACK = range(8)
IN_ONE_GO = (STAIN, GLUE, LACQUER, HANG, PACK)  # steps that are sessions over all orders

IF_NOT_YET = "if that is not done yet"


def steps_of(tray: Tray, workshop: Workshop) -> tuple[Step, ...]:
    """The steps of the piece in a tray, from the machine to the parcel, or until a layer lacks."""
    number, steps = tray.number, workshop.steps
    found = [Step(CUT, "Engrave and cut", number, _whence(tray))]
    cleaned = "take off the masking, brush off the soot, sand the edges"
    missing = [each.layer.name for each in tray.layers if each.whence in (NOWHERE, LATER)]
    kept = f"; keep it in its tray until {' and '.join(missing)} is cut" if missing else ""
    found.append(Step(CLEAN, "Clean", number, f"{cleaned}{kept}"))
    found += _stains(tray, workshop)
    if missing:
        return tuple(found)
    if len(tray.layers) > 1:
        names = " on ".join(each.layer.name for each in reversed(tray.layers))
        found.append(Step(GLUE, "Glue", number, names, waits("stays clamped", steps.glue_sets)))
    if steps.lacquer_dries:
        dry = waits("dries", steps.lacquer_dries, " before it is packed")
        found.append(Step(LACQUER, "Lacquer", number, "front and edges", dry))
    hanger = _hanger(tray, workshop)
    if hanger:
        reach = f"; its loop reaches {hanger.length:g} mm" if hanger.length else ""
        found.append(Step(HANG, "Hang", number, f"{hanger.title}{reach}"))
    due = f"due {tray.due}" if tray.due else ""
    if all(each.whence == BEFORE for each in tray.layers):
        found = [_if_not_yet(step) for step in found]
    found.append(Step(PACK, "Pack", number, ", ".join(filter(None, (due, tray.delivery)))))
    return tuple(found)


def _if_not_yet(step: Step) -> Step:
    """The step of a piece that was cut before; how far it came since is not known."""
    if step.rank in (CUT, STAIN):  # these say so by themselves
        return step
    return replace(step, what="; ".join(filter(None, (step.what, IF_NOT_YET))))


def waits(what: str, minutes: float, then: str = "") -> str:
    """For how long something rests: "dries 4 h"; empty for no time."""
    if not minutes:
        return ""
    hours, rest = divmod(round(minutes), 60)
    said = " ".join(filter(None, (f"{hours} h" if hours else "", f"{rest} min" if rest else "")))
    return f"{what} {said}{then}"


def _whence(tray: Tray) -> str:
    """Where the layers come from: "front S-0001 no. 3, back from stock"."""
    return ", ".join(f"{each.layer.name} {place(each.whence, each.number)}" for each in tray.layers)


def place(whence: str, number: int) -> str:
    """Where a layer is found, in words."""
    if whence == STOCK:
        return "from stock"
    return f"{whence} no. {number}" if number else whence


def _stains(tray: Tray, workshop: Workshop) -> Iterator[Step]:
    """The finishes that go on after engraving, a step each."""
    by_finish: dict[str, list[str]] = {}
    for each in tray.layers:
        finish = finish_of(each.layer.finish, workshop.finishes)
        if finish and finish.when == "after":
            maybe = f" ({each.whence}: {IF_NOT_YET})" if not each.number else ""
            by_finish.setdefault(finish.id, []).append(f"{each.layer.name}{maybe}")
    for finish_id, names in by_finish.items():
        title = workshop.finish(finish_id).title
        dry = waits("dries", workshop.steps.dries(finish_id))
        yield Step(STAIN, capital(title), tray.number, ", ".join(names), dry)


def finish_of(wanted: str, finishes: Iterable[Finish]) -> Finish | None:
    """The finish of that id; None where the workshop has it no longer."""
    return next((each for each in finishes if each.id == wanted), None)


def _hanger(tray: Tray, workshop: Workshop) -> Hanger | None:
    """What the piece hangs on; None where it hangs on nothing, or on what there is no longer."""
    wanted = tray.artwork.hanger
    return next((each for each in workshop.hangers if each.id == wanted and each.hole), None)


def capital(text: str) -> str:
    """The text with a large letter at its start."""
    return text[:1].upper() + text[1:]
