"""Reading TOML that a person wrote: every mistake becomes one sentence with file and place."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Collection, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar

from proofgen.errors import UnusableError

Table = Mapping[str, Any]
T = TypeVar("T")

# Like None, but for keys that have no default and so must be there.
REQUIRED: Any = object()


def read_toml(path: Path, format_number: int = 1) -> dict[str, Any]:
    """The table of a TOML file that says `format = 1`; UnusableError where it cannot be read."""
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError:
        raise UnusableError(f"{path}: there is no such file.") from None
    except OSError as error:
        raise UnusableError(f"{path}: cannot be opened ({error.strerror}).") from None
    except UnicodeDecodeError:
        raise UnusableError(f"{path}: is not UTF-8 text; save it as UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise UnusableError(f"{path}: is not valid TOML: {error}.") from None
    found = table.get("format")
    if found is None:
        raise UnusableError(f"{path}: has no format; write 'format = {format_number}' at the top.")
    if found != format_number or isinstance(found, bool):
        raise UnusableError(
            f"{path}: has format {found!r}, but this version reads format {format_number}."
        )
    return table


def check_keys(table: Table, known: Collection[str], place: str) -> None:
    """Refuse keys that are not known. `place` names file and table: "workshop.toml, machine"."""
    for key in table:
        if key not in known:
            raise UnusableError(f"{place}: unknown key '{key}'; {nearest(key, known)}")


def nearest(wanted: str, known: Collection[str]) -> str:
    """The end of a sentence: did you mean 'kerf'?, or else the list of what there is."""
    close = get_close_matches(wanted, known, n=1, cutoff=0.6)
    if close:
        return f"did you mean '{close[0]}'?"
    return "known are " + ", ".join(sorted(known)) + "."


def text(table: Table, key: str, place: str, default: T = REQUIRED) -> str | T:
    """A text that is not blank."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if not isinstance(value, str) or not value.strip():
        raise _wrong(place, key, "a text", value)
    return value


def choice(
    table: Table, key: str, place: str, allowed: Sequence[str], default: T = REQUIRED
) -> Any:
    """One of the allowed texts."""
    value = text(table, key, place, default)
    if value is not default and value not in allowed:
        raise _wrong(place, key, "one of " + ", ".join(allowed), value)
    return value


def number(
    table: Table,
    key: str,
    place: str,
    default: T = REQUIRED,
    *,
    least: float = -math.inf,
    most: float = math.inf,
) -> float | T:
    """A finite number from `least` to `most`."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise _wrong(place, key, "a number", value)
    if not least <= value <= most:
        raise _wrong(place, key, _range(least, most), value)
    return float(value)


def whole(
    table: Table, key: str, place: str, default: T = REQUIRED, *, least: int = 0, most: int = 10**6
) -> int | T:
    """A whole number from `least` to `most`."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if isinstance(value, bool) or not isinstance(value, int):
        raise _wrong(place, key, "a whole number", value)
    if not least <= value <= most:
        raise _wrong(place, key, _range(least, most), value)
    return value


def texts(table: Table, key: str, place: str, default: T = REQUIRED) -> tuple[str, ...] | T:
    """A list of texts, none of them blank, none twice."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if not isinstance(value, list) or not all(isinstance(v, str) and v.strip() for v in value):
        raise _wrong(place, key, "a list of texts", value)
    if len(set(value)) != len(value):
        raise UnusableError(f"{place}: '{key}' names something twice.")
    return tuple(value)


def yes_or_no(table: Table, key: str, place: str, default: T = REQUIRED) -> bool | T:
    """True or false."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if not isinstance(value, bool):
        raise _wrong(place, key, "true or false", value)
    return value


def wholes(table: Table, key: str, place: str, default: T = REQUIRED) -> tuple[int, ...] | T:
    """A list of whole numbers."""
    value = _get(table, key, place, default)
    if value is default:
        return default
    if not isinstance(value, list) or not all(type(v) is int for v in value):
        raise _wrong(place, key, "a list of whole numbers", value)
    return tuple(value)


def table(parent: Table, key: str, place: str, default: T = REQUIRED) -> dict[str, Any] | T:
    """A table within a table."""
    value = _get(parent, key, place, default)
    if value is default:
        return default
    if not isinstance(value, dict):
        raise _wrong(place, key, "a table", value)
    return value


def tables(parent: Table, key: str, place: str, default: T = REQUIRED) -> list[dict[str, Any]] | T:
    """An array of tables, at least one of them."""
    value = _get(parent, key, place, default)
    if value is default:
        return default
    if not isinstance(value, list) or not value or not all(isinstance(v, dict) for v in value):
        raise _wrong(place, key, f"one or more tables [[{key}]]", value)
    return value


def _get(table: Table, key: str, place: str, default: Any) -> Any:
    if key in table:
        return table[key]
    if default is REQUIRED:
        raise UnusableError(f"{place}: '{key}' is missing.")
    return default


def _wrong(place: str, key: str, wanted: str, value: Any) -> UnusableError:
    shown = repr(value) if len(repr(value)) <= 40 else repr(value)[:37] + "..."
    return UnusableError(f"{place}: '{key}' must be {wanted}, not {shown}.")


def _range(least: float, most: float) -> str:
    if most == math.inf:
        return f"{least:g} or more"
    return f"between {least:g} and {most:g}" if least > -math.inf else f"{most:g} or less"
