"""Layers that lie on sheets, as they were recorded with the pictures of their pieces."""

from __future__ import annotations

from proofgen.artwork.artwork import Layer
from proofgen.day.judging import Judged
from proofgen.making.sheet_files import Find
from proofgen.orders.order import Order, Source
from proofgen.records.archive import Archive
from proofgen.records.codec import decoded
from proofgen.sheets.job import Lies
from proofgen.sheets.want import Want


def finder(records: Archive) -> Find:
    """The recorded layer that lies on a sheet."""

    def find(lies: Lies) -> tuple[Layer, float]:
        record = next(p for p in records.pictures(lies.number) if p.code == lies.code)
        order = Order(lies.number, lies.line, Source("", "", 0), record.design)
        artwork = decoded(records.artwork(record.artwork), order)
        layer = next(layer for layer in artwork.layers if layer.name == lies.layer)
        return layer, artwork.size[0]

    return find


def want_of(lies: Lies, find: Find) -> Want:
    """What was wanted when that was laid."""
    layer, width = find(lies)
    return Want(
        number=lies.number,
        line=lies.line,
        code=lies.code,
        name=lies.name,
        copy=lies.copy,
        layer=layer,
        width=width,
        stock=lies.stock,
        ahead=lies.ahead,
    )


def want_for(item: Judged, layer: Layer, copy: int, days: int, subject: str) -> Want:
    """A copy of a layer of a row's piece, as it is to be cut; `subject` is that of its shelf."""
    made = item.made
    assert made.artwork is not None
    return Want(
        number=made.order.number,
        line=made.order.line,
        code=made.code,
        name=made.order.called,
        copy=copy,
        layer=layer,
        width=made.artwork.size[0],
        days=days,
        stock=subject,
    )
