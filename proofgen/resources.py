"""Where the files are that ship with the program but are not code."""

from __future__ import annotations

from pathlib import Path

from proofgen.errors import UnusableError

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """The folder "fonts" or "templates": the packaged one, else the checkout's.

    An editable install has no packaged data, because its files stay in the checkout.
    Raises UnusableError where neither is there.
    """
    for found in (_PACKAGE / "data" / name, _PACKAGE.parent / name):
        if found.is_dir():
            return found
    raise UnusableError(f"{_PACKAGE}: the folder '{name}' is missing; install proofgen again.")


def workshop_defaults() -> Path:
    """The workshop file that ships, which a person's own overrides."""
    return _PACKAGE / "workshop" / "defaults.toml"
