"""The boards of a run, their pieces numbered as they come free."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proofgen.artwork.artwork import Layer
from proofgen.jobsheet.data import Board, Lying, Tag, Tray
from proofgen.jobsheet.tags import Tagged, tags_of
from proofgen.jobsheet.trays import copy_of, numbers_of
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.kept_places import kept_places, on_board
from proofgen.sheets.want import Want
from proofgen.workshop.settings import Setting
from proofgen.workshop.workshop import OPERATIONS, Group, Workshop


@dataclass(frozen=True, slots=True)
class Cut:
    """A board as it is planned: what lies on it as it comes free; whether its back is engraved
    first; seconds on the machine, areas engraved in that way; whether it was begun and failed, and
    whether engraving and cuts have files of their own.
    """

    job: Job
    order: tuple[Lies, ...]
    back: bool
    seconds: float
    way: str
    begun: bool = False
    apart: bool = False


def board_of(
    cut: Cut, wants: Mapping[str, Want], trays: Sequence[Tray], workshop: Workshop
) -> Board:
    """The board with its pieces; `wants` are by key, `trays` those of the run."""
    numbers = numbers_of(trays)
    laid = [(lies, wants[lies.key].layer) for lies in cut.order]
    layers = [layer for _, layer in laid]
    job = cut.job
    tagged = [_tagged(i, lies, layer) for i, (lies, layer) in enumerate(laid, 1)]
    own = workshop.material(job.wood.material)
    kept = on_board(kept_places(own.board), job.width, job.height)
    tags = tags_of((job.width, job.height), tagged, (*kept, *filter(None, [job.rest])))
    finish = job.wood.finish
    return Board(
        job=job,
        wood=f"{own.title}, {workshop.finish(finish).title}" if finish else own.title,
        stain=finish,
        pieces=tuple(
            _lying(i, lies, layer, 0 if lies.ahead or lies.unasked else numbers[copy_of(lies)], tag)
            for i, ((lies, layer), tag) in enumerate(zip(laid, tags, strict=True), 1)
        ),
        settings=_settings(list(map(job.still, layers)), job.wood.material, workshop),
        back=cut.back,
        seconds=cut.seconds,
        way=cut.way,
        begun=cut.begun,
        apart=cut.apart,
        price=_price(cut, workshop),
        kept_out=kept,
    )


def _lying(number: int, lies: Lies, layer: Layer, tray: int, tag: Tag) -> Lying:
    return Lying(
        number=number,
        tray=tray,
        order="" if lies.ahead else lies.number,
        name="" if lies.ahead else lies.name,
        copy=lies.copy,
        layer=layer,
        at=lies.placed().affine(),
        tag=tag,
    )


def _tagged(number: int, lies: Lies, layer: Layer) -> Tagged:
    name = "stock" if lies.ahead else lies.name
    return Tagged(f"{number}", name, layer, lies.placed().affine())


def _settings(
    layers: Sequence[Layer], material: str, workshop: Workshop
) -> tuple[tuple[Group, Setting], ...]:
    """Of the operations that the board has, in the order of work."""
    used = {mark.operation for layer in layers for mark in layer.marks}
    own = workshop.material(material)
    return tuple((workshop.group(op), own.setting(op)) for op in OPERATIONS if op in used)


def _price(cut: Cut, workshop: Workshop) -> str:
    """What a new board costs, empty where none is taken or its price is not known."""
    price = workshop.material(cut.job.wood.material).price
    if cut.begun or cut.job.uses or price is None:
        return ""
    amount = workshop.money.amount(price.of(cut.job.width, cut.job.height))
    return f"{workshop.selling.currency}{amount:f}"
