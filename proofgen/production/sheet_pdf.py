"""A sheet as PDF: outlines at true size, in the order of work and in the groups' colours."""

from __future__ import annotations

from proofgen.production.steps import Plan
from proofgen.production.svg import HAIRLINE
from proofgen.proofs.sheet import Sheet
from proofgen.workshop.workshop import Workshop


def sheet_pdf(plan: Plan, workshop: Workshop, parts: str = "all") -> bytes:
    """The sheet's engraving ("engrave"), its cuts ("cut") or all of it, the same bytes each time.

    The page is as large as the sheet, for every part.
    """
    sheet = Sheet("", f"sheet, {plan.side}, origin at the top left")
    with sheet.page(plan.width, plan.height):
        for step in plan.part(parts).steps:
            colour = workshop.group(step.operation).colour
            if plan.filled(step.operation):
                sheet.fill(step.path, colour)
            else:
                sheet.line(step.path, colour, HAIRLINE)
    return sheet.close()
