"""Proof codes: a short digest of the decisions behind a piece, with a check character.

Decisions are hashed and never coordinates derived from them, since another version of a shaping
or geometry library may round those otherwise. What does not change what is drawn (speeds,
colours of operation groups, prices, buyer, due date) is not in it; the kerf is in it only where
it sizes bridges.
"""

from __future__ import annotations

import hashlib
import json
import re

from proofgen.lettering.lettering import Lettering

# Raised whenever the same decisions would give another piece.
SCHEME = 1

# 31 characters, a prime number: no 0, 1, I, L or O.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
BASE = len(ALPHABET)
LENGTH = 7
# What people type between its halves, for a character class; U+2212 is the minus sign.
DASHES = r"\-\u2010-\u2015\u2212_./:"


def proof_code(
    design: str,
    layers: tuple[tuple[str, str, str, str], ...],
    lettering: tuple[Lettering, ...],
    faces: tuple[tuple[str, str], ...],
    choices: tuple[tuple[str, str], ...],
) -> str:
    """The code of one piece, like "K7MT-4Q2A".

    `layers` are (name, material, finish, digest of the drawing), `faces` are ids with the digests
    of their files, `choices` whatever else decides the shape (hanger and its hole).
    """
    decisions = [SCHEME, design, layers, [_decided(item) for item in lettering], faces, choices]
    text = json.dumps(decisions, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    number = int.from_bytes(hashlib.sha256(text.encode("ascii")).digest(), "big")
    digits = [number // BASE**place % BASE for place in range(LENGTH)]
    return _spelled([*digits, _check(digits)])


def normal_code(typed: str) -> str | None:
    """The code in its usual form, from one typed in any case and spacing; None if it is not one.

    The check character finds every single wrong character and every swap of two.
    """
    letters = re.sub(rf"[\s{DASHES}]", "", typed).upper()
    if len(letters) != LENGTH + 1 or any(letter not in ALPHABET for letter in letters):
        return None
    digits = [ALPHABET.index(letter) for letter in letters]
    return _spelled(digits) if digits[-1] == _check(digits[:-1]) else None


def _decided(item: Lettering) -> list[object]:
    lines = [[line.glyphs, _thousandths(line.origin)] for line in item.lines]
    axes = [[tag, round(value * 1000)] for tag, value in item.axes]
    cap_height = round(item.cap_height * 100)
    return [item.field, item.layer, item.face, axes, round(item.tracking), cap_height, lines]


def _thousandths(point: tuple[float, float]) -> list[int]:
    return [round(value * 1000) for value in point]


def _check(digits: list[int]) -> int:
    """Weights 1 to 7 are distinct and not zero modulo 31, so one slip or swap changes the sum."""
    return sum((place + 1) * digit for place, digit in enumerate(digits)) % BASE


def _spelled(digits: list[int]) -> str:
    letters = "".join(ALPHABET[digit] for digit in digits)
    return f"{letters[:4]}-{letters[4:]}"
