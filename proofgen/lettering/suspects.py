"""Letters that were too thin or too tight, by face: at other settings they are looked at first."""

from __future__ import annotations

from collections.abc import Collection

from proofgen.faces.cut import Key
from proofgen.faces.face import Face

# So many are looked at before a setting is laid out.
FEW = 3


class Suspects:
    """For one process; of single glyphs, which are the same units at every setting."""

    def __init__(self) -> None:
        self._known: dict[str, dict[Key, None]] = {}

    def note(self, face: Face, key: Key) -> None:
        """The unit spoilt a setting of the face."""
        if len(key) == 1:
            known = self._known.setdefault(face.id, {})
            known.pop(key, None)
            known[key] = None

    def among(self, face: Face, keys: Collection[Key]) -> list[Key]:
        """A few of these units that spoilt a setting of the face, the latest first."""
        known = self._known.get(face.id, {})
        return [key for key in reversed(known) if key in keys][:FEW]
