"""Sheets that the maker timed, and what they make of the clock."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.day.rows import Options, home_of, shop_for
from proofgen.errors import UnusableError
from proofgen.making.as_written import as_written
from proofgen.making.recorded import finder
from proofgen.making.resuming import sheet_and_run
from proofgen.making.workshop_file import set_numbers
from proofgen.production.calibrate import Fit, Timed, calibrate
from proofgen.production.clock import CONTOUR, PIECE, SHEET
from proofgen.records.archive import archive
from proofgen.workshop.edit import Key

WAYS = {"sheet": SHEET, "piece": PIECE, "contour": CONTOUR}
# Minutes run on only where there are no hours.
_TIME = re.compile(r"(?:(\d{1,2}):([0-5]?\d)|(\d{1,3})):([0-5]\d)")


@dataclass(frozen=True, slots=True)
class Calibrated:
    """The fit, the workshop file that it went into, and the backup of that."""

    fit: Fit
    file: Path
    backup: Path | None


def calibrated(book: Path, timed: Iterable[str], way: str | None, options: Options) -> Calibrated:
    """Fit the clock to sheets that were timed ("S-0001=35:20"), both sides together, and write the
    two factors into the workshop file. They were engraved as their files are written, or all in
    one way ("sheet", "piece" or "contour").

    UnusableError for a sheet that is not known, and for times that cannot be.
    """
    workshop = shop_for(book, options).workshop
    motion = replace(workshop.motion, engraving_factor=1.0, cutting_factor=1.0)
    workshop = replace(workshop, motion=motion)
    jobs = []
    with archive(book.resolve().parent) as records:
        for text in timed:
            sheet, _, time = text.partition("=")
            job, run = sheet_and_run(sheet, records)
            steps = as_written(job, run, finder(records), workshop)
            own = {each.way: each for each in steps.times}
            times = own[WAYS[way]] if way else steps.expected
            jobs.append(Timed(job.id, times, _seconds(time, text)))
    if len({job.name for job in jobs}) < len(jobs):
        raise UnusableError("A sheet is given twice; time another one.")
    fit = calibrate(jobs)
    file = home_of(book, options).workshop or book.resolve().with_name("workshop.toml")
    numbers: dict[Key, float] = {
        ("motion", "engraving_factor"): round(fit.engraving, 3),
        ("motion", "cutting_factor"): round(fit.cutting, 3),
    }
    return Calibrated(fit, file, set_numbers(file, numbers))


def _seconds(time: str, text: str) -> float:
    found = _TIME.fullmatch(time.strip())
    if not found:
        raise UnusableError(f"{text}: write sheet and time as S-0001=35:20, or 1:05:20 with hours.")
    hours, past, minutes, seconds = (int(part or 0) for part in found.groups())
    return hours * 3600.0 + (past + minutes) * 60 + seconds


def as_text(found: Calibrated) -> str:
    """What the times came to."""
    fit = found.fit
    lines = [
        f"engraving takes {fit.engraving:.2f} and cutting {fit.cutting:.2f} of what was reckoned;"
        f" the worst sheet is then {fit.worst:.0%} off"
    ]
    if fit.common:
        lines.append("the sheets are too alike to tell engraving from cutting: time another kind")
    lines.append(f"written into {found.file}")
    return "\n".join([*lines, f"the old file is {found.backup}"] if found.backup else lines)
