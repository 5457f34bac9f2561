"""One list for each session of staining, gluing, lacquering and packing, over all orders."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from proofgen.jobsheet.data import Board, Session, Step, Task, Tray
from proofgen.jobsheet.steps import GLUE, HANG, IN_ONE_GO, LACQUER, PACK, STAIN, capital, waits
from proofgen.workshop.workshop import Workshop

BARE = (
    "Glue holds poorly on oil, stain and lacquer: keep the faces that will be glued bare, or sand "
    "them bare."
)
AIR = "Air the room well while it is put on and while it dries; keep flames away."
RAGS = (
    "Rags with oil can catch fire by themselves: dry them spread out flat, or keep them in water."
)
SMALL = "Small parts, ribbons and cords are not for small children; keep them out of reach."
CAUTIONS = {
    STAIN: (BARE, AIR, RAGS),
    GLUE: ("Dry first without glue. Keep to the glue map; wipe off at once what is squeezed out.",),
    LACQUER: (AIR, "Lacquer only what is glued and dry."),
    HANG: (SMALL,),
    PACK: ("Compare every piece with its picture, letter by letter, before it is wrapped.",),
}


def sessions(
    boards: Sequence[Board], trays: Sequence[Tray], steps: Iterable[Step], workshop: Workshop
) -> tuple[Session, ...]:
    """The sessions in the order of work: boards that are stained first, then by step."""
    by_number = {tray.number: tray for tray in trays}
    groups: dict[tuple[int, str, str], list[Step]] = {}
    for step in steps:
        if step.rank in IN_ONE_GO:
            groups.setdefault((step.rank, step.title, step.wait), []).append(step)
    later = [
        Session(title, wait, tuple(_task(step, by_number) for step in found), CAUTIONS[rank])
        for (rank, title, wait), found in sorted(groups.items(), key=lambda item: item[0])
    ]
    return (*_before(boards, workshop), *later)


def _before(boards: Sequence[Board], workshop: Workshop) -> tuple[Session, ...]:
    """A session for each finish that goes on boards before they are engraved."""
    stains = dict.fromkeys(board.stain for board in boards if to_stain(board))
    return tuple(
        Session(
            f"{capital(workshop.finish(stain).title)}, before engraving",
            waits("dries", workshop.steps.dries(stain), " before it is engraved"),
            tuple(
                Task(each.job.id, f"{each.job.width:g} \u00d7 {each.job.height:g} mm", each.wood)
                for each in boards
                if each.stain == stain and to_stain(each)
            ),
            CAUTIONS[STAIN],
            before=True,
        )
        for stain in stains
    )


def to_stain(board: Board) -> bool:
    """Whether the board is stained before it is engraved; a remainder of one, and one that was
    begun, is stained already.
    """
    return bool(board.stain) and not board.job.uses and not board.begun


def _task(step: Step, trays: Mapping[int, Tray]) -> Task:
    tray = trays[step.tray]
    return Task(f"{tray.number}", whose(tray), step.what)


def whose(tray: Tray) -> str:
    """Order, name, and which copy, where it is not the first."""
    copy = f" ({tray.copy})" if tray.copy > 1 else ""
    return f"{tray.order} {tray.name}{copy}"
