"""How every command prints what it tells a program."""

from __future__ import annotations

import json
from typing import Any


def as_object(value: Any) -> str:
    """One JSON object; ValueError for a number that JSON has not, such as infinity."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=1)
