"""How long one answer takes: ``compute`` for two stands and four seats, and what it costs to check a plan.

Run by hand: ``python -m tests.benchmarks.bench_compute``. Machines are noisy, so the figure to look at
is the ratio to a bare numpy pass over arrays of the same size in the same run.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np

from planner.headroom import compute
from planner.plan import dumps, load, loads
from planner.resources import demo_rooms

REPEATS = 200


def main() -> None:
    """Print medians in milliseconds and ratios."""
    plan = load(str(demo_rooms() / "reading_room.json"))
    seats = (*plan.seats, *(seat.model_copy(update={"name": f"{seat.name}, again"}) for seat in plan.seats))
    plan = plan.model_copy(update={"seats": seats[:4]})
    text = dumps(plan)
    bare = _median(_bare_pass)
    print(f"{'what':44s} {'median ms':>10s} {'p95 ms':>8s} {'to bare numpy':>14s}")
    for name, work in (
        ("bare numpy: 40 passes over (4, 2, 31)", _bare_pass),
        ("compute, 2 stands x 4 seats, candidate 0", lambda: compute(plan)),
        ("load from text", lambda: loads(text)),
    ):
        times = _times(work)
        median, high = statistics.median(times), np.percentile(times, 95)
        print(f"{name:44s} {median:10.2f} {high:8.2f} {median / bare:14.1f}")


def _bare_pass() -> None:
    block = np.ones((4, 2, 31))
    for _ in range(40):
        block = 10.0 ** (np.log10(block + 1.0) / 20.0)


def _times(work: Callable[[], object]) -> list[float]:
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000.0)
    return times


def _median(work: Callable[[], object]) -> float:
    return statistics.median(_times(work))


if __name__ == "__main__":
    main()
