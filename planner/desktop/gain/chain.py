"""What the gain chain says of one amplifier, link by link, in volts as data sheets state them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.headroom.gain import AmplifierGain, GainChain, Link
from planner.headroom.system import System
from planner.plan.model import Candidate

__all__ = ["Chain", "Missing", "Station", "chain_of", "crossover_db", "missing_from"]

LEAST_CROSSOVER_DB = 0.05


@dataclass(frozen=True, slots=True)
class Station:
    """A link: its key, its gain [dB], and the level behind it as rms of a sine with the same peaks [V]."""

    key: str
    gain_db: float | None
    level_v: float

    @property
    def level_dbv(self) -> float:
        """The level in dB re 1 V."""
        return float(20.0 * np.log10(self.level_v))

    @property
    def peak_v(self) -> float:
        """The peaks themselves [V]."""
        return float(np.sqrt(2.0)) * self.level_v


@dataclass(frozen=True, slots=True)
class Chain:
    """The links of one amplifier as they stand at the target, and what bounds them.

    ``voltage_db`` and ``current_db`` are what the amplifier's volts and amps leave above the peaks.
    """

    whole: GainChain
    amplifier: AmplifierGain
    stations: tuple[Station, ...]
    voltage_db: float
    current_db: float


@dataclass(frozen=True, slots=True)
class Missing:
    """What the plan does not say: the source, or the gain of some amplifiers."""

    source: bool
    amplifiers: tuple[str, ...]


def missing_from(candidate: Candidate) -> Missing:
    """What a plan must still say of a candidate before its chain can be drawn up."""
    unsaid = tuple(one.name for one in candidate.amplifiers if one.gain_db is None)
    return Missing(candidate.source is None, unsaid)


def chain_of(whole: GainChain, system: System, seat: int, index: int) -> Chain:
    """One amplifier's chain at a seat."""
    amplifier = whole.amplifiers[index]
    voltage, current = system.capabilities[2 * index : 2 * index + 2]
    gain_db = float(system.gain_db[seat])
    return Chain(
        whole=whole,
        amplifier=amplifier,
        stations=_stations(amplifier.links, crossover_db(system, index)),
        voltage_db=voltage.total_db - gain_db,
        current_db=current.total_db - gain_db,
    )


def crossover_db(system: System, index: int) -> float:
    """What the crossover ahead of an amplifier leaves of the programme's level, 0 or less [dB]."""
    drive = system.drives[index]
    seen = float(10.0 * np.log10(np.sum(drive.emf_v**2)))
    return min(0.0, seen - drive.amplifier.trim_db)


def _stations(links: tuple[Link, ...], crossed_db: float) -> tuple[Station, ...]:
    """The links, with the crossover before the amplifier where it takes something."""
    levels = [Station(link.key, link.gain_db, link.peak_v / float(np.sqrt(2.0))) for link in links]
    if crossed_db > -LEAST_CROSSOVER_DB:
        return tuple(levels)
    left = 10.0 ** (crossed_db / 20.0)
    *before, last = levels
    crossed = Station("crossover", crossed_db, before[-1].level_v * left)
    return (*before, crossed, Station(last.key, last.gain_db, last.level_v * left))
