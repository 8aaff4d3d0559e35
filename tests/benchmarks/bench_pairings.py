"""How long every pairing takes: 40 loudspeakers with 40 amplifiers at 4 seats, and what bare numpy takes.

Run by hand: ``python -m tests.benchmarks.bench_pairings``. The bare pass does the same work on arrays of the
same size (what is sent to the seats; currents, levels and limits of every pair) and reads no plan; the sums
over the room's modes stand beside it. Machines are noisy: look at the least and the median, and at the ratio
in one run.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from planner.headroom.modal import modal_field
from planner.headroom.pairings import pairings
from planner.headroom.room import room_field
from planner.headroom.scene import scene_of
from planner.plan import Plan, load
from planner.plan.amplifier import Amplifier
from planner.plan.catalogue import AmplifierEntry, LoudspeakerEntry, built_in_entries
from planner.plan.loudspeaker import Loudspeaker
from planner.resources import demo_rooms

REPEATS = 21
SIDE, SECTIONS, STANDS, SEATS, BANDS = 40, 3, 2, 4, 31
TARGET_MS = 400.0


def main() -> None:
    """Print least, median and 95th percentile in milliseconds, and ratios."""
    print(f"{'what':52s} {'least':>7s} {'median':>7s} {'95 %':>7s}   target {TARGET_MS:g}")
    bare = _report("bare numpy, without modes", [_timed(_bare_pass) for _ in range(REPEATS)])
    for file in sorted(Path(str(demo_rooms())).glob("*.json")):
        _report_room(file.stem, _with_four_seats(load(str(file))), bare)


def _report_room(name: str, plan: Plan, bare: float) -> None:
    loudspeakers, amplifiers = _parts()
    cable = plan.candidates[0].cable
    modes = [_timed(lambda step=step: _modes(_nudged(plan, step))) for step in range(REPEATS)]
    # Another place of a stand each time, so that no earlier sum over modes can be used again.
    moved = [_nudged(plan, step + REPEATS) for step in range(REPEATS)]
    spent = [_timed(lambda one=one: pairings(one, loudspeakers, amplifiers, cable)) for one in moved]
    again = [_timed(lambda: pairings(plan, loudspeakers, amplifiers, cable)) for _ in range(REPEATS)]
    base = bare + _report(f"{name}: its modes alone", modes)
    whole = _report(f"{name}: 40 x 40 at 4 seats, a stand moved", spent)
    _report(f"{name}: the same, nothing moved", again)
    print(f"{'to bare numpy with the modes':52s} {whole / base:15.1f}")


def _parts() -> tuple[list[Loudspeaker], list[Amplifier]]:
    """Forty of each, all different, from the catalogue and slightly changed copies of it."""
    entries = built_in_entries()
    found = [one.data for one in entries if isinstance(one, LoudspeakerEntry) and one.data.impedance]
    drives = [one.data for one in entries if isinstance(one, AmplifierEntry)]
    loudspeakers = [*found, *(one.model_copy(update={"name": f"{one.name}, again"}) for one in found)][:SIDE]
    amplifiers = [*drives, *(one.model_copy(update={"name": f"{one.name}, again"}) for one in drives)][:SIDE]
    assert (len(loudspeakers), len(amplifiers)) == (SIDE, SIDE)
    return loudspeakers, amplifiers


def _with_four_seats(plan: Plan) -> Plan:
    seats = list(plan.seats)
    while len(seats) < SEATS:
        last = seats[-1]
        seats.append(last.model_copy(update={"name": f"{last.name}, beside", "y_m": 0.9 * last.y_m}))
    return plan.model_copy(update={"seats": tuple(seats[:SEATS])})


def _nudged(plan: Plan, step: int) -> Plan:
    """The plan with its first stand a little further to the right."""
    first = plan.stands[0]
    stand = first.model_copy(update={"y_m": first.y_m + 1e-4 * (step + 1)})
    return plan.model_copy(update={"stands": (stand, *plan.stands[1:])})


def _modes(plan: Plan) -> object:
    scene = scene_of(plan)
    return modal_field(plan, scene, room_field(plan, scene))


def _bare_pass() -> None:
    """What every loudspeaker sends to every seat, then what every pair can, from arrays that are there."""
    rng = np.random.default_rng(1)
    loss_db = rng.random((SIDE, SECTIONS, STANDS, SEATS, BANDS))
    shape = (SIDE, SECTIONS, 1, 1, BANDS)
    pressure, factor = rng.random(shape) + 1.0, rng.random(shape) + 1.0
    direct = (pressure * 10.0 ** (-loss_db / 20.0)).sum(axis=1)
    sent2 = ((pressure / np.sqrt(factor)).sum(axis=1) ** 2).sum(axis=1)
    field = (direct**2).sum(axis=1) + direct.prod(axis=1) + sent2 * np.exp(-loss_db[:, 0, 0])
    ohm = 8.0 + rng.random((SIDE, 1, BANDS)) + 1j * rng.random((SIDE, 1, BANDS))
    output, clip_v, clip_a = (rng.random((SIDE, SIDE)) + 1.0 for _ in range(3))
    current2 = rng.random(BANDS) / np.abs(ohm + 0.1 + output[..., None]) ** 2
    volts2 = current2 * np.abs(ohm) ** 2
    gain_db = 100.0 - 10.0 * np.log10(volts2 @ field.swapaxes(-1, -2))
    amps_db = 20.0 * np.log10(clip_a) - 10.0 * np.log10(current2.sum(-1))
    asked = volts2 @ rng.random((SIDE, 2 * SECTIONS, BANDS)).swapaxes(-1, -2)
    limits_db = (10.0 * np.log10(1.0 / asked)).min(axis=-1)
    least_db = np.minimum(np.minimum(20.0 * np.log10(clip_v), amps_db), limits_db)
    assert np.all(np.isfinite(10.0 ** ((gain_db - least_db[..., None]) / 10.0)))


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000.0


def _report(name: str, spent: list[float]) -> float:
    high, median = statistics.quantiles(spent, n=20)[-1], statistics.median(spent)
    print(f"{name:52s} {min(spent):7.1f} {median:7.1f} {high:7.1f}")
    return median


if __name__ == "__main__":
    main()
