"""The proof picture of one piece, drawn from its artwork and from nothing else."""

from __future__ import annotations

from proofgen.artwork.artwork import Made
from proofgen.proofs.caption import caption
from proofgen.proofs.lettered import lettered
from proofgen.proofs.png import band, png
from proofgen.proofs.scene import parted
from proofgen.proofs.shelf import shelved
from proofgen.proofs.stage import HEIGHT, WIDTH, stage
from proofgen.proofs.whole import drawn_whole
from proofgen.workshop.workshop import Workshop


def proof_png(made: Made, workshop: Workshop) -> bytes:
    """The PNG (1080 x 1350) that a buyer is shown; ValueError for a row without artwork."""
    artwork = made.artwork
    if artwork is None:
        raise ValueError("a row without artwork has no picture")
    piece = parted(artwork, workshop)
    place = stage(artwork.size, piece.scene.hanger is not None)
    if piece.own:
        base = shelved(piece.scene, piece.depths)
        palette, bands = base.palette, tuple(lettered(base, piece, place))
    else:
        palette, bands = drawn_whole(piece.scene, place)
    strip = band(caption(made, artwork, workshop.proofs.inches))
    texts = {"Order": made.order.number, "Proof code": made.counted}
    return png((WIDTH, HEIGHT), palette, (*bands, strip), texts)
