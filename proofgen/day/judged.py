"""A row with what was approved of it."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.artwork.artwork import Made
from proofgen.day.rows import Done
from proofgen.flags.flag import Severity
from proofgen.records.approval import Approval
from proofgen.records.record import feeding, piece_key


@dataclass(frozen=True, slots=True)
class Judged:
    """A row with what its Approved cell says; `done` is None where the recorded piece stands. Rows
    above it in its order ask for the same piece, so many copies of it as `before` says.
    """

    made: Made
    approval: Approval
    done: Done | None = None
    before: int = 0

    @property
    def piece(self) -> str:
        """The key of its piece: of the approved one, if there is one."""
        record = self.approval.record
        return piece_key(self.made.order, record.code if record else self.made.code)

    @property
    def called(self) -> str:
        """The name on its piece, on one line; that of the row may have been changed since."""
        record, order = self.approval.record, self.made.order
        if record is None:
            return order.called
        then, now = (dict(cells).get("name", "") for cells in (record.cells, feeding(order)))
        return order.called if then == now else " ".join(then.split())

    @property
    def stopped_by(self) -> str:
        """What stops the row now, whatever was made of it; empty where nothing does."""
        stops = (f.text for f in self.made.flags if f.kind.severity is Severity.STOP)
        return next(stops, "")

    def share(self, copies: int) -> int:
        """How many of so many copies of its piece are this row's."""
        return max(min(copies - self.before, self.made.order.quantity), 0)
