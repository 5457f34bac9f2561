"""The greatest size that passes a test which is not monotone."""

from __future__ import annotations

from collections.abc import Callable

# The scan down from the bound, where it gives up, and where the bracket is closed.
SCAN = 0.985
SMALLEST = 0.2
CLOSED = 0.0005


def greatest(high: float, fits: Callable[[float], bool]) -> float:
    """The greatest size up to `high` found to fit, closed to 0.05 %; 0 where none does."""
    if high <= 0 or fits(high):
        return high
    low, floor = high * SCAN, high * SMALLEST
    while not fits(low):
        low, high = low * SCAN, low
        if low < floor:
            return 0.0
    while high / low > 1 + CLOSED:
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low
