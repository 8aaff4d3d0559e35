"""How long the room takes: modes anew at every step of a drag, the map of the floor, the searches.

Run by hand: ``OPENBLAS_NUM_THREADS=1 python -m tests.benchmarks.bench_room`` (the command line sets the
same). Machines are noisy, so beside each median stands the fastest run.
"""

from __future__ import annotations

import itertools
import statistics
import time
from collections.abc import Callable

from planner.headroom import compute
from planner.headroom.floor_map import figure_at, floor_map
from planner.headroom.nulls import nulls
from planner.headroom.placing import Area, best_seat, best_stands
from planner.plan import Plan, load
from planner.resources import demo_rooms

REPEATS = 60
SEATS = 4


def main() -> None:
    """Print medians and fastest runs in milliseconds."""
    print(f"{'what':66s} {'median ms':>10s} {'fastest':>8s}")
    for room, candidate in (("map_room", 0), ("map_room", 1), ("tea_room", 2), ("vaulted_hall", 0)):
        plan = four_seats(load(str(demo_rooms() / f"{room}.json")))
        name = plan.candidates[candidate].name
        print(f"{room}, {name}: 2 stands, {SEATS} seats")
        for what, work in works(plan, candidate):
            times = timed(work)
            print(f"  {what:64s} {statistics.median(times):10.2f} {min(times):8.2f}")


def works(plan: Plan, candidate: int) -> list[tuple[str, Callable[[], object]]]:
    """What is timed; every run of a drag has a new place, so that nothing is remembered."""
    steps = itertools.count(1)
    length, width = plan.room.dimensions_m[:2]

    def both() -> Plan:
        return nudged(plan, next(steps), (0, 1))

    def one() -> Plan:
        return nudged(plan, next(steps), (0,))

    def drag() -> None:
        moved = one()
        compute(moved, candidate)
        floor_map(moved, candidate)

    area = Area(0.4 * length, 0.2 * width, 0.9 * length, 0.8 * width)
    front = Area(0.0, 0.0, 0.3 * length, 0.45 * width)
    return [
        ("compute, nothing moved", lambda: compute(plan, candidate)),
        ("compute, both stands moved", lambda: compute(both(), candidate)),
        ("map 60 x 45 x 31, both stands moved", lambda: floor_map(both(), candidate)),
        ("map, one stand moved", lambda: floor_map(one(), candidate)),
        ("map, nothing moved", lambda: floor_map(plan, candidate)),
        ("compute and map, one stand moved", drag),
        ("figure under the pointer", lambda: figure_at(both(), candidate, 0.7 * length, 0.4 * width)),
        ("nulls, both stands moved", lambda: nulls(both(), candidate)),
        ("best seat in a third of the room", lambda: best_seat(plan, candidate, 0, area)),
        ("best mirrored pair", lambda: best_stands(plan, candidate, (0, 1), front, mirrored=True)),
    ]


def four_seats(plan: Plan) -> Plan:
    """The plan with its seats, and more of the first one behind it until they are four."""
    first = plan.seats[0]
    more = (
        first.model_copy(update={"name": f"{first.name} {step}", "x_m": first.x_m + 0.4 * step})
        for step in range(1, SEATS + 1)
    )
    return plan.model_copy(update={"seats": (*plan.seats, *more)[:SEATS]})


def nudged(plan: Plan, step: int, which: tuple[int, ...]) -> Plan:
    """The plan with some stands a little along the wall."""
    stands = list(plan.stands)
    for index in which:
        stands[index] = stands[index].model_copy(update={"y_m": stands[index].y_m + 1e-4 * step})
    return plan.model_copy(update={"stands": tuple(stands)})


def timed(work: Callable[[], object]) -> list[float]:
    """Milliseconds of each run, the first one left out; long ones run less often."""
    times: list[float] = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000.0)
        if sum(times) > 1500.0 and len(times) > 3:
            break
    return times[1:]


if __name__ == "__main__":
    main()
