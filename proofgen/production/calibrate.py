"""Fitting the clock to jobs that the maker timed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from proofgen.errors import UnusableError
from proofgen.geometry.path import Points
from proofgen.production.clock import Times

# No machine is that far from what was reckoned: beyond it, a time or a job was mixed up.
LEAST, MOST = 0.2, 5.0
# Nor does one clock serve jobs of which one is still off by more than this share of its time.
WORST = 0.25
# Above this the jobs are so alike that engraving and cutting cannot be told apart.
ALIKE = 20.0


@dataclass(frozen=True, slots=True)
class Timed:
    """A job as it was reckoned with both factors at 1, and how many seconds it really took."""

    name: str
    reckoned: Times
    seconds: float


@dataclass(frozen=True, slots=True)
class Fit:
    """Factors for the workshop file, and by what share of its time the worst job is off.

    `common` says that the jobs were too alike to tell engraving from cutting, so that both have
    one factor.
    """

    engraving: float
    cutting: float
    worst: float
    common: bool


def calibrate(jobs: Sequence[Timed]) -> Fit:
    """The two factors that bring the jobs nearest to their times, in shares of each job's time.

    Least squares; pierces count as cutting, moves between as they were reckoned. UnusableError
    for fewer than two jobs, for times that are none, for factors beyond 0.2 to 5, and where a job
    is more than a quarter of its time off all the same.
    """
    if len(jobs) < 2:
        raise UnusableError(
            "Time at least two jobs, best one with much engraving and one with little."
        )
    for job in jobs:
        if not job.seconds > job.reckoned.travel:
            raise UnusableError(f"{job.name}: {job.seconds:g} s is less than its moves alone take.")
    seconds = np.array([job.seconds for job in jobs])
    parts = np.array([_parts(job.reckoned) for job in jobs]) / seconds[:, None]
    wanted = 1 - np.array([job.reckoned.travel for job in jobs]) / seconds
    common = _alike(parts)
    factors = _fitted(parts.sum(axis=1, keepdims=True) if common else parts, wanted)
    engraving, cutting = (float(factors[0]), float(factors[-1]))
    for what, factor in (("engraving", engraving), ("cutting", cutting)):
        if not LEAST <= factor <= MOST:
            raise UnusableError(
                f"The times would make {what} {factor:.2f} times what was reckoned, and anything "
                f"beyond {LEAST:g} to {MOST:g} is a mistake; check the times, or time jobs that "
                "differ more."
            )
    off = np.abs(parts @ np.array([engraving, cutting]) - wanted)
    worst = float(off.max())
    if worst > WORST:
        raise UnusableError(
            f"No two factors suit these times: {jobs[int(off.argmax())].name} would still be "
            f"{worst:.0%} off, and anything above {WORST:.0%} is a mistake; check the times."
        )
    return Fit(engraving, cutting, worst, common)


def _parts(times: Times) -> tuple[float, float]:
    return times.engraving, times.cutting + times.pierce


def _alike(parts: Points) -> bool:
    sizes = np.linalg.svd(parts / np.linalg.norm(parts, axis=0).clip(1e-12), compute_uv=False)
    return bool(sizes[0] > ALIKE * sizes[1])


def _fitted(parts: Points, wanted: Points) -> Points:
    return np.asarray(np.linalg.lstsq(parts, wanted, rcond=None)[0])
