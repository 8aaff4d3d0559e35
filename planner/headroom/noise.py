"""Noise at the seats with nothing playing: amplifier hum and hiss, phono stage, against room and ear."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import weighting
from planner.acoustics.noise_criteria import nc_rating, octaves_of_thirds
from planner.headroom.field import arrive
from planner.headroom.noise_spectra import phono_spectrum, residual_spectrum
from planner.headroom.room_noise import Quiet, quiet_of
from planner.headroom.sources import edge_gain
from planner.headroom.system import System
from planner.plan.model import Plan

__all__ = ["PARTS", "AmplifierNoise", "SeatNoise", "Tolerated", "seat_noises"]

FloatArray = NDArray[np.float64]

PARTS = ("hum", "hiss", "phono")
"""What noise is made of, in the order of the arrays below."""

OWN_ROLL_OFF_DB = 12.0
"""Below the crossover a section's own radiator is taken to fall by so much an octave; see :func:`_path`."""

_NEPER = np.log(10.0) / 10.0

_SILENCE = 1e-12
"""Mean square pressure, re (20 µPa)², that stands for none: −120 dB, so that levels stay finite."""


@dataclass(frozen=True, slots=True)
class Tolerated:
    """The largest residual of one amplifier that nobody hears at the seat, in its own weighting [mV].

    Hum and hiss each for themselves; they lie in different bands, so both hold at once. With several
    amplifiers the residuals of all are raised alike. None for a part that the plan has as zero.
    """

    amplifier: str
    hum_mv: float | None
    hiss_mv: float | None


@dataclass(frozen=True, slots=True, eq=False)
class AmplifierNoise:
    """What the electronics make of silence: levels by third octave (B,) at the seat and at 1 m [dB].

    At 1 m one loudspeaker is heard on its axis, without a room. ``part_db`` (3, B) is the level at the
    seat of each of :data:`PARTS`. ``margin_db`` is what the noise lies below the limit of
    :class:`Quiet` in ``band_hz``, the band in which it comes nearest or exceeds it most, by ``part``;
    below 0 it is ``audible``. ``complete`` is False if some amplifier's residual is not given.
    """

    dba: float
    dba_1m: float
    level_db: FloatArray
    level_1m_db: FloatArray
    part_db: FloatArray
    band_hz: float
    part: str
    margin_db: float
    tolerated: tuple[Tolerated, ...]
    complete: bool

    @property
    def audible(self) -> bool:
        """Whether it is heard in any band."""
        return self.margin_db < 0.0


@dataclass(frozen=True, slots=True, eq=False)
class SeatNoise:
    """Silence at one seat: ear and room, and the electronics where a residual is given.

    ``room_nc`` is the NC rating of the room, ``together_nc`` that of room and electronics.
    """

    band_hz: FloatArray
    quiet: Quiet
    amplifier: AmplifierNoise | None
    room_nc: float | None
    together_nc: float | None

    @property
    def noise_dba(self) -> float | None:
        """A-weighted level of the electronics [dB]."""
        return None if self.amplifier is None else self.amplifier.dba

    @property
    def room_noise_dba(self) -> float | None:
        """A-weighted level of the room's own noise [dB]."""
        return None if self.quiet.room is None else self.quiet.room.dba


@dataclass(frozen=True, slots=True, eq=False)
class _Powers:
    """Mean square pressure of the three parts, re (20 µPa)², plain and A-weighted.

    At the seats (K, 3, B), and at 1 m (K, 3, B): the phono stage's depends on the volume control.
    """

    seat: FloatArray
    seat_a: FloatArray
    near: FloatArray
    near_a: FloatArray


def seat_noises(system: System, plan: Plan) -> tuple[SeatNoise, ...]:
    """Noise at every seat; averages use the steady room, and stands add in power."""
    quiet, hz = quiet_of(plan, system.stage.scene.band_hz), system.stage.scene.band_hz
    if all(drive.amplifier.residual is None for drive in system.drives):
        return tuple(_seat_noise(hz, quiet, None) for _ in plan.seats)
    powers = _powers(system, plan)
    return tuple(
        _seat_noise(hz, quiet, _amplifier_noise(system, powers, seat, quiet.limit_db))
        for seat in range(len(plan.seats))
    )


def _seat_noise(band_hz: FloatArray, quiet: Quiet, amplifier: AmplifierNoise | None) -> SeatNoise:
    if quiet.room is None:
        return SeatNoise(band_hz, quiet, amplifier, None, None)
    room_nc = together_nc = float(nc_rating(quiet.room.octave_db))
    if amplifier is not None:
        added = octaves_of_thirds(amplifier.level_db, band_hz)
        together_nc = float(nc_rating(np.logaddexp(quiet.room.octave_db * _NEPER, added * _NEPER) / _NEPER))
    return SeatNoise(band_hz, quiet, amplifier, room_nc, together_nc)


def _amplifier_noise(system: System, powers: _Powers, seat: int, limit_db: FloatArray) -> AmplifierNoise:
    part_db = _level(powers.seat[seat])
    level_db = _level(powers.seat[seat].sum(axis=0))
    worst = int(np.argmin(limit_db - level_db))
    return AmplifierNoise(
        dba=float(_level(powers.seat_a[seat].sum())),
        dba_1m=float(_level(powers.near_a[seat].sum())),
        level_db=level_db,
        level_1m_db=_level(powers.near[seat].sum(axis=0)),
        part_db=part_db,
        band_hz=float(system.stage.scene.band_hz[worst]),
        part=PARTS[int(np.argmax(part_db[:, worst]))],
        margin_db=float(limit_db[worst] - level_db[worst]),
        tolerated=_tolerated(system, np.min(limit_db - part_db, axis=-1)),
        complete=all(drive.amplifier.residual is not None for drive in system.drives),
    )


def _tolerated(system: System, spare_db: FloatArray) -> tuple[Tolerated, ...]:
    """What each amplifier may have where hum and hiss have so much to spare (3,)."""
    raised = 10.0 ** (spare_db / 20.0)
    return tuple(
        Tolerated(
            drive.amplifier.name,
            float(residual.hum_mv * raised[0]) if residual.hum_mv > 0.0 else None,
            float(residual.hiss_mv * raised[1]) if residual.hiss_mv > 0.0 else None,
        )
        for drive in system.drives
        if (residual := drive.amplifier.residual) is not None
    )


def _powers(system: System, plan: Plan) -> _Powers:
    """All parts at the seats and at 1 m; every amplifier's noise is its own, so they add in power."""
    seats, bands = len(plan.seats), system.stage.scene.band_hz.size
    powers = _Powers(*(np.zeros((seats, len(PARTS), bands)) for _ in range(4)))
    for index, drive in enumerate(system.drives):
        if drive.amplifier.residual is not None:
            volts2, volts2_a = residual_spectrum(drive.amplifier.residual, system.stage.scene.band_hz)
            _add(powers, slice(0, 2), system, _path(system, index), volts2, volts2_a)
    phono = phono_spectrum(system, plan)
    if phono is not None:
        gains = np.array([system.drives[index].section_gain for index in system.driven_by])
        weighted = phono * 10.0 ** (weighting(system.stage.scene.band_hz, "A") / 10.0)
        _add(powers, slice(2, 3), system, gains * system.sources.pressure, phono, weighted)
    return powers


def _add(
    powers: _Powers, parts: slice, system: System, path: FloatArray, volts2: FloatArray, volts2_a: FloatArray
) -> None:
    """Add parts of given mean square volts (P, B) or (K, P, B) by a path (S, B) for 1 V."""
    scene = replace(system.stage.scene, coherence=np.zeros(system.stage.scene.band_hz.shape))
    heard = arrive(path, system.carried, system.sources, scene, system.stage.room, system.stage.modal)
    near = path.sum(axis=0) ** 2
    powers.seat[:, parts] += heard.steady[:, None] * volts2
    powers.seat_a[:, parts] += heard.steady[:, None] * volts2_a
    powers.near[:, parts] += near * volts2
    powers.near_a[:, parts] += near * volts2_a


def _path(system: System, index: int) -> FloatArray:
    """Pressure at 1 m for 1 V at the terminals of one amplifier, re 20 µPa, by section (S, B).

    Behind an amplifier of the whole loudspeaker all edges lie in the way. One of a single section comes
    after the crossover, which then takes nothing from its residual, and what the section's own radiator
    does beyond is not in the plan: above, it is taken to go on level; below, to fall by 12 dB an octave
    from the edge, the least by which any radiator falls below its resonance (common practice, no
    published source). So a treble horn does not hum at 50 Hz, and a bass section's hiss is not hidden.
    """
    sources, sections = system.sources, system.candidate.loudspeaker.sections
    mine = (np.array(system.driven_by) == index)[:, None]
    if system.drives[index].amplifier.drives == "all":
        return np.asarray(sources.pressure * mine)
    hz = system.stage.scene.band_hz
    own = np.ones(sources.flat.shape)
    for lower, section in enumerate(sections[1:], start=1):
        own[lower] = edge_gain(hz, section.low_hz, OWN_ROLL_OFF_DB, "low")
    return np.asarray(sources.flat * own * sources.outer * sources.response * sources.step * mine)


def _level(power: FloatArray) -> FloatArray:
    return np.asarray(10.0 * np.log10(np.maximum(power, _SILENCE)))
