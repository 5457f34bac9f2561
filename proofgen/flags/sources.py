"""What a kind of flag rests on, where several rest on the same."""

from __future__ import annotations

WCAG = "WCAG 2.2, success criterion 1.4.11"
PRACTICE = "common practice, no source"
