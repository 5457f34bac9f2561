"""A job sheet in words, tables and drawings."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.jobsheet.blocks import Block, Document, Pictures, Section, Table, Text
from proofgen.jobsheet.data import (
    Board,
    Item,
    JobSheet,
    Joint,
    OrderWork,
    Session,
    Slip,
    Tray,
)
from proofgen.jobsheet.drawings import board_drawing, captions, glue_drawing
from proofgen.jobsheet.orders import trays_said
from proofgen.jobsheet.sessions import to_stain, whose
from proofgen.jobsheet.steps import place
from proofgen.proofs.type import unwritten

CAUTIONS = (
    "A cutting laser is a fire, fume and eye hazard. Never leave it unattended while it runs, and "
    "keep an extinguisher at hand.",
    "Extraction on; the enclosure closed, or eye protection made for the laser's wavelength.",
    "Never cut PVC or vinyl, nor a material that you do not know.",
    "Stains, oils and lacquers: air the room, no flames, and dry oily rags spread out flat or keep "
    "them in water, since they can catch fire by themselves.",
    "Small parts, ribbons and cords are not for small children.",
    "Your local codes and the machine's manual come first.",
)
ENGRAVING_COLUMNS = ("Operation", "Depth", "Masking", "Speed", "Power", "Passes", "Air", "Focus")


def document(sheet: JobSheet) -> Document:
    """All sections in the order of work: the day, boards, sessions, orders, slips."""
    sessions = [(_session(each, i), each) for i, each in enumerate(sheet.sessions, 1)]
    sections = [
        _day(sheet),
        *(section for section, each in sessions if each.before),
        *map(_board, sheet.boards),
        *(section for section, each in sessions if not each.before),
        *(_order(each, sheet.inset, i) for i, each in enumerate(sheet.orders, 1)),
        *(_slip(each, sheet.title, i) for i, each in enumerate(sheet.slips, 1)),
    ]
    return Document(sheet.title, sheet.day, tuple(sections))


def _day(sheet: JobSheet) -> Section:
    seconds = sum(board.seconds for board in sheet.boards)
    said = (
        f"{counted(len(sheet.boards), 'board')}, {_minutes(seconds)} on the machine; "
        f"{counted(len(sheet.trays), 'piece')} for {counted(len(sheet.orders), 'order')}."
    )
    blocks: list[Block] = [Text(said), *(Text(each, "caution") for each in CAUTIONS)]
    blocks += _unwritten(sheet)
    if sheet.pull:
        blocks.append(Text("Pull from stock", "strong"))
        pull = tuple((title, f"{count}") for title, count in sheet.pull)
        blocks.append(Table(("Layer", "How many"), (0.8, 0.2), pull))
    if sheet.boards:
        blocks.append(Text("Boards, in the order in which they are cut", "strong"))
        heads = ("Board", "Wood", "Take", "Layers", "Machine")
        rows = tuple(_board_row(board) for board in sheet.boards)
        blocks.append(Table(heads, (0.13, 0.31, 0.35, 0.09, 0.12), rows))
    blocks.append(Text("Trays: what belongs together, a tray for each piece", "strong"))
    rows = tuple(_tray_row(tray) for tray in sheet.trays)
    blocks.append(Table(("Tray", "Order, name", "Layers, front first"), (0.1, 0.34, 0.56), rows))
    return Section("day", "The day's work", tuple(blocks), alone=True)


def _unwritten(sheet: JobSheet) -> Iterator[Block]:
    """Which orders have letters that the paper lacks; a browser mostly has them."""
    for slip in sheet.slips:
        text = " ".join((slip.buyer, slip.delivery, *(item.name for item in slip.items)))
        missing = unwritten(text)
        if missing:
            yield Text(
                f"Order {slip.number}: no font here has {' '.join(missing)}, so boxes stand for "
                "them on paper; print its slip from the page for a screen.",
                "caution",
            )


def _board_row(board: Board) -> tuple[str, ...]:
    return (
        board.job.id,
        board.wood,
        _taken(board),
        f"{len(board.pieces)}",
        _minutes(board.seconds),
    )


def _taken(board: Board) -> str:
    size = f"{board.job.width:g} \u00d7 {board.job.height:g} mm"
    if board.begun:
        return f"the board that was begun, {size}, as it lies"
    if board.job.uses:
        return f"remainder {board.job.uses}, {size}"
    price = f", {board.price}" if board.price else ""
    return f"a new board, {size}{price}{'; stain it first' if to_stain(board) else ''}"


def _tray_row(tray: Tray) -> tuple[str, ...]:
    layers = ", ".join(
        f"{each.layer.name} {place(each.whence, each.number)}" for each in reversed(tray.layers)
    )
    return f"{tray.number}", whose(tray), layers


def _board(board: Board) -> Section:
    job = board.job
    blocks: list[Block] = [
        Text(
            f"{board.wood}: {_taken(board)}. {_minutes(board.seconds)} on the machine, areas "
            f"{board.way}."
        ),
        Text(
            "Good face up, the marked corner at the machine's origin (top left; a DXF file has its "
            "origin at the lower left). Stay with the machine; extraction on, eyes protected.",
        ),
    ]
    if to_stain(board):
        blocks.append(Text("Stain the board first and let it dry; see the session.", "strong"))
    blocks += _sides(board)
    blocks += (board_drawing(board), *captions(board))
    blocks.append(_settings(board))
    rows = tuple(
        (
            f"{piece.number}",
            piece.goes_to,
            f"{piece.order} {piece.name}{f' ({piece.copy})' if piece.copy > 1 else ''}".strip(),
            piece.layer.name,
        )
        for piece in board.pieces
    )
    heads = ("Number", "Tray", "Order, name", "Layer")
    blocks.append(Table(heads, (0.14, 0.12, 0.5, 0.24), rows))
    return Section(job.id.lower(), f"Board {job.id}", tuple(blocks), alone=True)


def _sides(board: Board) -> Iterator[Block]:
    """What is to be known about the board's two sides."""
    if board.back:
        first = ", unless that was done before the board failed" if board.begun else ""
        yield Text(
            f"Engrave the back first{first}: the board face down, run {board.job.id}-back, then "
            "turn it over left to right, its top edge staying at the top, into the same corner.",
            "strong",
        )
    if board.apart and "front" not in board.job.engraved:
        said = f"Run {board.job.id}-engrave to its end, then {board.job.id}-cut; "
        yield Text(f"{said}do not move the board between.", "strong")
    if board.job.engraved:
        what = "All engraving" if "front" in board.job.engraved else "Engraving of the back"
        yield Text(f"{what} is done: it is not in the files of this board any more.", "strong")


def _settings(board: Board) -> Table:
    rows = tuple(
        (
            *(group.name, group.depth, group.masking),
            *(own.speed, own.power, own.passes, own.air, own.focus),
        )
        for group, own in board.settings
    )
    widths = (0.2, 0.1, 0.13, 0.13, 0.12, 0.1, 0.1, 0.12)
    return Table(ENGRAVING_COLUMNS, widths, rows, ticks=False, blanks=True)


def _session(session: Session, number: int) -> Section:
    rows = tuple((task.where, task.whose, task.what) for task in session.tasks)
    blocks: list[Block] = [Text(each, "caution") for each in session.cautions]
    if session.wait:
        blocks.insert(0, Text(f"Then it {session.wait}.", "strong"))
    heads = ("Board", "Size", "Wood") if session.before else ("Tray", "Order, name", "What")
    blocks.append(Table(heads, (0.14, 0.36, 0.5), rows))
    return Section(f"session-{number}", session.title, tuple(blocks))


def _order(work: OrderWork, inset: float, number: int) -> Section:
    about = [work.buyer, f"due {work.due}" if work.due else "", trays_said(work.trays)]
    blocks: list[Block] = [Text("; ".join(filter(None, about)))]
    blocks.append(Table(("Step", "What"), (0.24, 0.76), work.steps))
    for joint in work.joints:
        blocks += _joint(joint, inset)
    return Section(f"order-{number}", f"Order {work.number}", tuple(blocks))


def _joint(joint: Joint, inset: float) -> Iterator[Block]:
    rear, front = joint.names
    said = f"Glue map, {trays_said(joint.trays)}: {front} on {rear} of {joint.title}. "
    if joint.share:
        said += (
            f"Glue only where it is filled in, {inset:g} mm from every edge; the line within the "
            "outline is the edge of the front."
        )
    else:
        said += (
            f"Nowhere are {inset:g} mm free on either side: set small dots of glue in the middle "
            "of the widest places."
        )
    yield Text(said, "strong")
    yield glue_drawing(joint)


def _slip(slip: Slip, workshop: str, number: int) -> Section:
    blocks: list[Block] = [Text(workshop, "quiet")]
    said = (
        ("For", slip.buyer),
        ("Due", slip.due),
        ("Delivery", slip.delivery),
        ("Price", slip.price),
        ("Paid", slip.paid),
    )
    blocks += [Text(f"{what}: {text}") for what, text in said if text]
    if slip.balance.startswith("-"):
        blocks.append(Text(f"Paid too much: {slip.balance[1:]}", "strong"))
    elif slip.balance:
        blocks.append(Text(f"To pay: {slip.balance}", "strong"))
    rows = tuple(_item(item) for item in slip.items)
    blocks.append(
        Table(("Name", "Piece", "Count", "Code", "Tray"), (0.3, 0.25, 0.1, 0.18, 0.17), rows)
    )
    files = tuple((item.picture, item.name) for item in slip.items if item.picture)
    if files:
        blocks.append(Pictures(files))
    blocks.append(Text("Small parts, ribbons and cords are not for small children.", "quiet"))
    return Section(f"slip-{number}", f"Order {slip.number}", tuple(blocks), alone=True)


def _item(item: Item) -> tuple[str, ...]:
    others = item.count - len(item.trays)
    away = f"{others} not in this run" if item.trays and others > 0 else ""
    here = "; ".join(filter(None, (", ".join(map(str, item.trays)), away))) or "not in this run"
    return item.name, item.title, f"{item.count}", item.code, here


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.0f} min"


def counted(number: int, what: str) -> str:
    """A number and what it counts."""
    return f"{number} {what}{'' if number == 1 else 's'}"
