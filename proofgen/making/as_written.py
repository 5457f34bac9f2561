"""Sheets that were written before, planned as they were then, or left aside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from proofgen.errors import UnusableError
from proofgen.making.completing import run_of
from proofgen.making.laying import rests
from proofgen.making.sheet_files import Find, Form, Planned, in_the_way, planned
from proofgen.records.archive import Archive
from proofgen.sheets.job import Job
from proofgen.sheets.run import Run
from proofgen.sheets.setup import set_up
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Before:
    """Sheets of earlier runs: those that are to be cut, those that are left aside, and a sentence
    for each of these.
    """

    planned: tuple[Planned, ...]
    aside: tuple[Job, ...]
    told: tuple[str, ...]


def before(jobs: Iterable[Job], find: Find, records: Archive, workshop: Workshop) -> Before:
    """Sheets that were written before, as they were, where they may be cut so today; of begun ones
    those on which anything is asked for.
    """
    found: list[Planned] = []
    aside: dict[Job, str] = {}
    begun = {job.id for job in rests(records)}
    for job in jobs:
        if job.id in begun and all(each.unasked for each in job.lies):
            aside[job] = (
                f"{job.id}, a board that was begun, is left aside: nobody asks for what lies on it "
                f"any more. Give it up with stock --gone {job.id}, or change the rows back."
            )
            continue
        run = run_of(job, records)
        why = unlike(job, run, workshop)
        if not why:
            steps = as_written(job, run, find, workshop)
            why = in_the_way(steps, workshop)
        if why:
            aside[job] = (
                f"{job.id} is left aside: {why}. Set the workshop file as it was, or give a board "
                f"that was begun up: stock --gone {job.id}."
            )
        else:
            found.append(steps)
    return Before(tuple(found), tuple(aside), tuple(aside.values()))


def as_written(job: Job, run: Run, find: Find, workshop: Workshop) -> Planned:
    """The steps of a sheet of a run in the order, and with the times, that its files had, as far
    as the run tells. UnusableError for wood that the workshop file has no longer.
    """
    gone = _gone(job, workshop)
    if gone:
        raise UnusableError(f"{job.id}: {gone}; put it back, and run this once more.")
    form = Form(run.formats, run.manner, run.apart, run.hatch)
    return planned(job, find, set_up(workshop, run.setup), form)


def unlike(job: Job, run: Run, workshop: Workshop) -> str:
    """Why the wood of a sheet is not that which the workshop file has; empty where it is."""
    material = job.wood.material
    gone = _gone(job, workshop)
    was = run.setup.thickness(material) if run.setup else None
    if gone or was is None:
        return gone
    now = workshop.material(material).thickness
    return f"it is of {material} of {was:g} mm, which is {now:g} mm now" if was != now else ""


def _gone(job: Job, workshop: Workshop) -> str:
    wood = job.wood
    if wood.material not in (each.id for each in workshop.materials):
        return f"the workshop file has no material {wood.material} any more"
    if wood.finish and wood.finish not in (each.id for each in workshop.finishes):
        return f"the workshop file has no finish {wood.finish} any more"
    return ""
