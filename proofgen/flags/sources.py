"""What a kind of flag rests on, where several rest on the same."""

from __future__ import annotations

PRACTICE = "common practice, no source"
