"""What an element id says: the part before the first dot is the role, the rest a free name."""

from __future__ import annotations

import re
from difflib import get_close_matches
from itertools import chain

from proofgen.config import nearest
from proofgen.designs.drawing import Shape
from proofgen.errors import UnusableError
from proofgen.workshop.workshop import OPERATIONS

ZONE, LINE, IDENTITY, HOLE = "zone", "path", "identity", "hole"
ROLES = (*OPERATIONS, ZONE, LINE, IDENTITY, HOLE)
# What drawing programs call what nobody named: a word for the shape, and a number.
GIVEN = re.compile(
    r"(path|rect|circle|ellipse|polygon|line|polyline|g|group|shape|layer)[-_ ]?\d[\d_-]*", re.I
)


def role_of(shape: Shape, file: str) -> tuple[str, str]:
    """(role, name) by the element's own id, else by that of the innermost group that has a role.

    UnusableError names the id that was found instead, and the nearest role.
    """
    for wanted in (shape.id, *shape.groups):
        role, _, name = wanted.partition(".")
        if role in ROLES:
            return role, name
    found = _meant(shape)
    if not found:
        raise UnusableError(
            f"{file}: an element has no id; give it one that starts with its role, "
            f"such as 'cut-inside.window'."
        )
    role = found.partition(".")[0]
    if GIVEN.fullmatch(found):
        groups = " and ".join(f"'{group}'" for group in shape.groups if group != found)
        inside = f", in {groups}" if groups else ""
        raise UnusableError(
            f"{file}, element '{found}'{inside}: that id was given by a program; write one "
            f"that starts with its role, such as 'cut-inside.window', into the field for ids."
        )
    raise UnusableError(
        f"{file}, element '{found}': unknown role '{role}'; {nearest(role.lower(), ROLES)}"
    )


def _meant(shape: Shape) -> str:
    """The id that was to say the role: one that nearly does, else the innermost."""
    ids = [wanted for wanted in (shape.id, *shape.groups) if wanted]
    written = (wanted for wanted in ids if not GIVEN.fullmatch(wanted))
    near = (w for w in written if get_close_matches(w.partition(".")[0].lower(), ROLES, 1))
    return next(chain(near, ids), "")
