"""The packing engine in a process of its own: a question on standard input, an answer on output.

Run as a file, so that it needs nothing of the package. A bad outline makes the engine panic, and a
search can only be ended by ending its process; here both harm nobody.

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
NEAR = 1.04  # times as wide as is narrow enough
PAUSE = 0.003  # seconds between two looks


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
    search = Thread(target=instance.solve, args=(config, queue), daemon=True)
    search.start()
    _answer(_best(queue, search, asked))


def _best(queue: Any, search: Thread, asked: dict[str, Any]) -> Any:
    """The first layout that is narrow enough, else the narrowest before the patience ended."""
    import spyrrow

    kinds = spyrrow.ReportType
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    end = time.monotonic() + (asked["seconds"] or FOREVER)
    best, idle, stuck = None, 0, 0
    alive = True
    # A search that panics ends without a last report.
    while alive and time.monotonic() < end:
        alive = search.is_alive()
        for kind, found in queue.drain():
            idle += 1
            stuck += kind == kinds.ExplInfeas
            if kind in feasible and (best is None or found.width < best.width):
                best, idle = found, 0
            if best and best.width <= asked["enough"]:
                return best
            # A search that is far from its goal seldom gets there once it is stuck.
            near = best is not None and best.width <= asked["enough"] * NEAR
            patience = asked["patience"] if near or not asked["enough"] else asked["patience"] // 3
            if idle >= patience or stuck > asked["stuck"] or kind == kinds.Final:
                return best
        time.sleep(PAUSE)
    return best


def _answer(best: Any) -> None:
    placed = [(p.id, p.rotation, *p.translation) for p in best.placed_items] if best else []
    json.dump({"width": best.width if best else None, "placed": placed}, sys.stdout)
    sys.stdout.flush()
    # The search goes on in its thread, and would keep the process.
    os._exit(0)


if __name__ == "__main__":
    main()
