"""The packing engine in a process of its own: a question on standard input, an answer on output.

Run as `python -m proofgen.nesting.child`. A bad outline makes the engine panic, and a search can
only be ended by ending its process; here both harm nobody.

Which answer is given depends on the number of reports that the engine has made, not on time, so
the same question has the same answer.
"""

from __future__ import annotations

import json
import os
import sys
import time
from threading import Thread
from typing import Any

FOREVER = 3600  # seconds; the process is ended long before
NEAR = 1.03  # times as long as is short enough
PAUSE = 0.004  # seconds between two looks


def main() -> None:
    """Answer the one question."""
    asked = json.load(sys.stdin)
    import spyrrow

    shapes = [
        spyrrow.Item(each["id"], [*map(tuple, each["shape"])], each["count"], each["turns"])
        for each in asked["items"]
    ]
    instance = spyrrow.StripPackingInstance("", asked["height"], shapes)
    config = spyrrow.StripPackingConfig(
        early_termination=True,
        min_items_separation=asked["gap"],
        total_computation_time=None,
        exploration_time=FOREVER,
        compression_time=FOREVER,
        num_workers=asked["workers"],
        seed=asked["seed"],
    )
    queue = spyrrow.ProgressQueue()
    Thread(target=instance.solve, args=(config, queue), daemon=True).start()
    _answer(_best(queue, asked))


def _best(queue: Any, asked: dict[str, Any]) -> Any:
    """The first layout that is short enough, else the shortest before the patience ended."""
    import spyrrow

    kinds = spyrrow.ReportType
    ends = (kinds.ExplInfeas, kinds.Final)
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    end = time.monotonic() + (asked["seconds"] or FOREVER)
    best, idle = None, 0
    while True:
        for kind, found in queue.drain():
            idle += 1
            if kind in feasible and (best is None or found.width < best.width):
                best, idle = found, 0
            if best and best.width <= asked["enough"]:
                return best
            if idle >= _patience(best, asked) or kind in ends:
                return best
        if time.monotonic() > end:
            return best
        time.sleep(PAUSE)


def _patience(best: Any, asked: dict[str, Any]) -> int:
    """How many reports without progress are borne: few while the goal is far."""
    near = best is not None and best.width <= asked["enough"] * NEAR
    return int(asked["patience"] if near or not asked["enough"] else asked["patience"] // 3)


def _answer(best: Any) -> None:
    placed = [(p.id, p.rotation, *p.translation) for p in best.placed_items] if best else []
    json.dump({"width": best.width if best else None, "placed": placed}, sys.stdout)
    sys.stdout.flush()
    # The search goes on in its thread, and would keep the process.
    os._exit(0)


if __name__ == "__main__":
    main()
