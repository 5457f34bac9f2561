"""The python-bidi adapter: stretches of one direction in the order in which they are seen."""

from __future__ import annotations

from collections.abc import Iterator

import unicodedata2

RIGHT_TO_LEFT = {"R", "AL", "AN", "RLE", "RLO", "RLI"}

Run = tuple[int, str, bool]


def visual_runs(text: str) -> tuple[Run, ...]:
    """Runs from left to right as (index of the first character, text, is it left to right)."""
    if text.isascii() or not any(unicodedata2.bidirectional(c) in RIGHT_TO_LEFT for c in text):
        return ((0, text, True),)
    levels = _levels(text)
    runs = list(_stretches(text, levels))
    for level in range(max(levels), 0, -1):
        _reverse(runs, levels, level)
    return tuple(runs)


def _levels(text: str) -> list[int]:
    """Embedding levels by the Unicode Bidirectional Algorithm (UAX #9), one a character."""
    from bidi import algorithm

    storage = algorithm.get_empty_storage()
    base = algorithm.get_base_level(text)
    storage["base_level"] = base
    storage["base_dir"] = ("L", "R")[base]
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    known = {id(entry): entry["level"] for entry in storage["chars"]}
    return list(known.values()) if len(known) == len(text) else [base] * len(text)


def _stretches(text: str, levels: list[int]) -> Iterator[Run]:
    start = 0
    for end in range(1, len(text) + 1):
        if end == len(text) or levels[end] != levels[start]:
            yield start, text[start:end], levels[start] % 2 == 0
            start = end


def _reverse(runs: list[Run], levels: list[int], level: int) -> None:
    """Rule L2: turn round every sequence of runs at this level or above."""
    start = 0
    while start < len(runs):
        end = start
        while end < len(runs) and levels[runs[end][0]] >= level:
            end += 1
        runs[start:end] = runs[start:end][::-1]
        start = max(end, start + 1)
