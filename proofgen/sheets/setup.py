"""What of the workshop file shaped the files of sheets when they were written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from proofgen.workshop.boards import BoardSize
from proofgen.workshop.motion import Cutting
from proofgen.workshop.workshop import Material, Workshop


@dataclass(frozen=True, slots=True)
class Bed:
    """Boards of a material as they lay on the machine, and their thickness in mm."""

    material: str
    thickness: float
    board: BoardSize


@dataclass(frozen=True, slots=True)
class Setup:
    """Kerf and pitch in mm, how cuts were laid, and the boards of each material."""

    kerf: float
    pitch: float
    cutting: Cutting
    beds: tuple[Bed, ...]

    def thickness(self, material: str) -> float | None:
        """In mm; None where nothing is said."""
        return next((bed.thickness for bed in self.beds if bed.material == material), None)


def setup_of(workshop: Workshop, materials: Iterable[str]) -> Setup:
    """How the workshop is set up for these materials."""
    found = (workshop.material(each) for each in sorted(set(materials)))
    beds = tuple(Bed(each.id, each.thickness, each.board) for each in found)
    return Setup(workshop.machine.kerf, workshop.motion.pitch, workshop.cutting, beds)


def set_up(workshop: Workshop, setup: Setup | None) -> Workshop:
    """The workshop, with what shapes the files of sheets as it was; as it is for None."""
    if setup is None:
        return workshop
    boards = {bed.material: bed.board for bed in setup.beds}
    return replace(
        workshop,
        machine=replace(workshop.machine, kerf=setup.kerf),
        motion=replace(workshop.motion, pitch=setup.pitch),
        cutting=setup.cutting,
        materials=tuple(_on(boards, each) for each in workshop.materials),
    )


def _on(boards: Mapping[str, BoardSize], material: Material) -> Material:
    return replace(material, board=boards.get(material.id, material.board))


def from_said(said: Mapping[str, Any]) -> Setup:
    """The setup back, from what `dataclasses.asdict` gave and JSON kept."""
    beds = tuple(
        Bed(each["material"], each["thickness"], _board(each["board"])) for each in said["beds"]
    )
    return Setup(said["kerf"], said["pitch"], Cutting(**said["cutting"]), beds)


def _board(said: Mapping[str, Any]) -> BoardSize:
    keep_out = tuple((x, y, w, h) for x, y, w, h in said["keep_out"])
    short, long = said["least"]
    return BoardSize(**{**said, "keep_out": keep_out, "least": (short, long)})
