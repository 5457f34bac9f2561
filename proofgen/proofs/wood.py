"""Wood: growth rings bent by noise, fibres, mottle and flecks along x."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from functools import lru_cache
from zlib import crc32

import numpy as np
from PIL import Image

from proofgen.cache import cache_folder, keep, kept
from proofgen.proofs.drawn_by import drawn_by
from proofgen.proofs.noise import Noise
from proofgen.proofs.paint import Board, ramp
from proofgen.proofs.raster import Floats
from proofgen.proofs.soft import Soft, soft
from proofgen.proofs.stage import MARGIN, SCENE, WIDTH
from proofgen.workshop.contrast import PLACES
from proofgen.workshop.workshop import Colour

RING = 34.0  # px between two rings
MIDDLE = (0.34, 0.58)  # of the rings, as a share of the height and the width
FINE = 0.95  # of a proof picture: what is hardly smaller has the grain as it is
KEPT = 40  # sheets on disk, 1.3 MB each
SHEET = (SCENE + 2 * MARGIN, WIDTH + 2 * MARGIN)


def wood(tones: tuple[Colour, Colour, Colour, Colour], tone: Soft) -> Floats:
    """The canvas of a board whose grain is `tone`."""
    return Board(ramp(tones, PLACES), tone).canvas()


def plank(
    tones: tuple[Colour, Colour, Colour, Colour],
    name: str,
    shape: tuple[int, int],
    share: float = 1.0,
) -> Board:
    """The same board in the tones of a finish."""
    return Board(ramp(tones, PLACES), grain(name, shape, share))


def grain(name: str, shape: tuple[int, int], share: float = 1.0) -> Soft:
    """Tone 0 (dark) to 1 (light) of a board (height, width); the name decides which board.

    Whatever its size it is cut from one sheet, with the middle of the rings at the same place; it
    is as fine as the `share` says of a proof picture's: a fine one is a larger part made smaller.
    """
    height, width = shape
    if share >= FINE:
        left, top = _corner(shape)
        return sheet(name)[top : top + height, left : left + width]
    deep, wide = (min(round(shape[i] / share), SHEET[i]) for i in (0, 1))
    left, top = _corner((deep, wide))
    box = left, top, left + wide, top + deep
    whole = Image.fromarray(sheet(name))
    return np.asarray(whole.resize((width, height), Image.Resampling.BOX, box))


def _corner(shape: tuple[int, int]) -> tuple[int, int]:
    """The left and the top of a part of the sheet."""
    down, along = (round(MIDDLE[i] * (SHEET[i] - shape[i])) for i in (0, 1))
    return along, down


@lru_cache(maxsize=6)
def sheet(name: str) -> Soft:
    """The sheet that boards are cut from, as large as any window; grown once and kept on disk."""
    folder = cache_folder() / "boards"
    file = folder / f"{hashlib.sha256(f'{drawn_by()} {name}'.encode()).hexdigest()}.board"
    found = kept(file)
    if found is not None:
        return np.frombuffer(found, np.uint8).reshape(SHEET)
    made = soft(grown(name))
    keep(file, made.tobytes())
    with suppress(OSError):
        for old in sorted(folder.glob("*.board"), key=lambda each: -each.stat().st_mtime)[KEPT:]:
            old.unlink()
    return made


def grown(name: str) -> Floats:
    """Tone 0..1 of such a sheet, which the name alone decides."""
    shape = SHEET
    noise = Noise(crc32(name.encode()), shape)
    tone = 0.80 - 0.40 * _rings(noise, shape)
    tone += 0.075 * noise.field(130, 1.5) + 0.05 * noise.field(46, 2.4)
    tone += 0.07 * noise.field(240, 90) + 0.03 * noise.field(37, 21)
    flecks = np.clip(noise.field(26, 2.0) - 0.82, 0, 1)
    tone -= 1.3 * flecks
    return np.asarray(np.clip(tone, 0, 1), np.float32)


def _rings(noise: Noise, shape: tuple[int, int]) -> Floats:
    """Late wood 0..1: it grows dark slowly through the year and stops at once."""
    height, width = shape
    y = np.arange(height, dtype=np.float32)[:, None]
    x = np.arange(width, dtype=np.float32)[None, :]
    bent = y + 46 * noise.field(700, 330) + 17 * noise.field(300, 110)
    bent += 5 * noise.field(150, 36) + 1.6 * noise.field(60, 12)
    centre = (width * MIDDLE[1], height * MIDDLE[0])
    # 900 rounds the innermost ring; rings are long along the grain.
    r = np.sqrt((bent - centre[1]) ** 2 + (0.115 * (x - centre[0])) ** 2 + 900)
    phase = r / (RING * (1 + 0.25 * noise.field(2000, 160)))
    phase -= np.floor(phase)
    late = np.clip((phase - 0.25) / (0.93 - 0.25), 0, 1)
    late = late * late * (3 - 2 * late)
    back = np.clip((1 - phase) / 0.07, 0, 1)
    strength = 0.62 + 0.38 * noise.field(420, 60)
    return np.asarray(late * back * strength)
