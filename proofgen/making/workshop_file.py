"""Numbers written into the maker's workshop file, which is kept in every other way."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from proofgen.errors import UnusableError
from proofgen.files import backed_up, write_bytes
from proofgen.workshop.edit import Key, with_numbers
from proofgen.workshop.read import load

NEW = "# What differs in your workshop from the defaults that ship.\nformat = 1\n"


def set_numbers(file: Path, numbers: Mapping[Key, float]) -> Path | None:
    """Write the numbers, and give the backup of the file; None where it was not there before.

    UnusableError where the file could not be used afterwards; nothing is written then.
    """
    before = file.read_bytes() if file.exists() else b""
    mark, text = _decoded(before or NEW.encode())
    after = mark + with_numbers(text, numbers, str(file)).encode()
    _verify(after, file)
    backup = backed_up(file, before) if before else None
    write_bytes(file, after)
    return backup


def _decoded(data: bytes) -> tuple[bytes, str]:
    """The byte-order mark, if there is one, and the text after it."""
    mark = b"\xef\xbb\xbf" if data.startswith(b"\xef\xbb\xbf") else b""
    return mark, data[len(mark) :].decode("utf-8")


def _verify(data: bytes, file: Path) -> None:
    """UnusableError unless the new file can be used, before it takes the old one's place."""
    with TemporaryDirectory() as folder:
        trial = Path(folder) / file.name
        trial.write_bytes(data)
        try:
            load(trial)
        except UnusableError as error:
            said = str(error).replace(str(trial), file.name)
            raise UnusableError(f"{file} was not written to: then {said}") from None
