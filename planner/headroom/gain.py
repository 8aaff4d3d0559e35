"""The gain chain: from record or line to the loudspeaker's terminals, and where it overloads first."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.electrics.gain import (
    PEAK_VELOCITY_CM_S,
    amplified_volts,
    cartridge_volts,
    gain_between,
    overload_velocity,
)
from planner.headroom.drive import Drive
from planner.headroom.system import System
from planner.plan.amplifier import PhonoSource, Source
from planner.plan.model import Plan

__all__ = [
    "AmplifierGain",
    "GainChain",
    "Link",
    "PhonoStage",
    "chain_emf",
    "gain_chain",
    "peak_velocity",
    "source_volts",
]

FloatArray = NDArray[np.float64]
_SQRT2 = float(np.sqrt(2.0))


@dataclass(frozen=True, slots=True)
class Link:
    """One part of the chain: what it is, its gain [dB], and the peak volts that leave it at the target.

    ``key`` is ``cartridge``, ``phono``, ``line``, ``volume``, ``level`` (an amplifier's own control, which
    trims it against the others) or ``amplifier``; a source has no gain. The volts are those of the whole
    programme, before any crossover, and into the rated load.
    """

    key: str
    gain_db: float | None
    peak_v: float


@dataclass(frozen=True, slots=True)
class AmplifierGain:
    """One amplifier behind the source; volts are rms of a sine, at the terminals into the rated load.

    ``sensitivity_v`` at its input makes ``full_v``, its full output; with the volume control fully up
    the source's greatest output makes ``available_v``. ``spare_db`` is what that is above full output:
    negative means that a preamplifier is wanted. ``links`` is the chain as it stands at the target.
    """

    name: str
    sensitivity_v: float
    full_v: float
    available_v: float
    spare_db: float
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True, eq=False)
class PhonoStage:
    """What a record's highest peaks make of a phono stage.

    They leave it at ``peak_v`` (peak, not rms), taken as 12 dB above 5 cm/s. ``overload_margin_db`` is
    how far that lies below its overload, and ``overload_velocity_cm_s`` (B,) the groove velocity that
    overloads it at each band, with the playback curve; None where its overload is not given.
    """

    peak_v: float
    overload_margin_db: float | None
    overload_velocity_cm_s: FloatArray | None


@dataclass(frozen=True, slots=True)
class GainChain:
    """The chain of one candidate, set so that one seat hears the target.

    ``source_v`` is the source's greatest output, rms of a sine. ``volume_db`` is where the volume
    control sits, against fully up: it does so for average and peaks alike, provided that the loudest
    peaks of the record or file are as high as the source can give. Above 0 the chain does not reach
    the target. ``overloads_first`` names the part with the least above the peaks at this setting,
    ``"phono"`` or an amplifier, and ``overload_margin_db`` says how much that is.
    """

    source_v: float
    volume_db: float
    amplifiers: tuple[AmplifierGain, ...]
    phono: PhonoStage | None
    overloads_first: str
    overload_margin_db: float

    @property
    def spare_db(self) -> float:
        """What the amplifier that is hardest to drive has to spare above full output [dB]."""
        return min(amplifier.spare_db for amplifier in self.amplifiers)

    @property
    def reaches_full_output(self) -> bool:
        """Whether source and amplifiers need no preamplifier between them."""
        return self.spare_db >= 0.0


def gain_chain(system: System, plan: Plan, seat: int) -> GainChain | None:
    """The chain at one seat; None unless the source and every amplifier's gain are given."""
    source = system.candidate.source
    if source is None or not _gains_known(system):
        return None
    volume_db = float(-20.0 * np.log10(_full_over_needed(system, plan, source)[seat]))
    phono = _phono_stage(source, system.stage.scene.band_hz) if isinstance(source, PhonoSource) else None
    part, margin_db = _overloads_first(system, float(system.gain_db[seat]), phono)
    return GainChain(
        source_v=source_volts(source),
        volume_db=volume_db,
        amplifiers=tuple(
            _amplifier(drive, source, min(volume_db, 0.0), _level_db(drive, system))
            for drive in system.drives
        ),
        phono=phono,
        overloads_first=part,
        overload_margin_db=margin_db,
    )


def source_volts(source: Source) -> float:
    """The greatest output of a source, rms of a sine [V]: a record's at its highest peaks."""
    if isinstance(source, PhonoSource):
        return float(amplified_volts(_cartridge_v(source), source.phono_gain_db))
    return source.volts


def chain_emf(system: System, plan: Plan) -> FloatArray | None:
    """EMF of the programme for 1 V that leaves the source, at the setting for each seat's target, (K,).

    At most what the chain gives with the volume control fully up; None where the chain is not known.
    """
    source = system.candidate.source
    if source is None or not _gains_known(system):
        return None
    needed = _needed_peak_emf(system, plan) / (_SQRT2 * source_volts(source))
    return np.asarray(needed * np.minimum(1.0, _full_over_needed(system, plan, source)))


def _gains_known(system: System) -> bool:
    return all(drive.amplifier.gain_db is not None for drive in system.drives)


def _needed_peak_emf(system: System, plan: Plan) -> FloatArray:
    """Peak of the programme's EMF, before crossover and trim, for the target at each seat (K,) [V]."""
    return np.asarray(10.0 ** ((system.gain_db + plan.programme.crest_db) / 20.0))


def _full_over_needed(system: System, plan: Plan, source: Source) -> FloatArray:
    """Peak EMF with the volume control fully up over that for the target, (K,).

    The amplifiers are trimmed against one another, so the one that is hardest to drive decides.
    """
    return _SQRT2 * source_volts(source) * _hardest(system) / _needed_peak_emf(system, plan)


def _hardest(system: System) -> float:
    """Programme EMF for a volt at the input of the amplifier that is hardest to drive."""
    return min(_emf_per_volt(drive) for drive in system.drives)


def _level_db(drive: Drive, system: System) -> float:
    """Setting of an amplifier's own level control, so that the hardest to drive has it fully up [dB]."""
    return float(gain_between(_emf_per_volt(drive), _hardest(system)))


def _emf_per_volt(drive: Drive) -> float:
    """Programme EMF, before trim, for a volt at the input; gain is to the terminals, into the rated load."""
    gain_db = (drive.amplifier.gain_db or 0.0) - drive.amplifier.trim_db
    return float(amplified_volts(1.0, gain_db)) * _emf_over_terminals(drive)


def _emf_over_terminals(drive: Drive) -> float:
    return 1.0 + drive.rating.output_ohm / drive.rating.ohm


def _amplifier(drive: Drive, source: Source, volume_db: float, level_db: float) -> AmplifierGain:
    """One amplifier, and the peaks along the chain with the volume control at a setting."""
    gain_db = drive.amplifier.gain_db or 0.0
    full_v = drive.clip_emf_v / _emf_over_terminals(drive) / _SQRT2
    available_v = float(amplified_volts(source_volts(source), gain_db))
    after_volume = _SQRT2 * float(amplified_volts(source_volts(source), volume_db))
    at_input = float(amplified_volts(after_volume, level_db))
    return AmplifierGain(
        name=drive.amplifier.name,
        sensitivity_v=float(amplified_volts(full_v, -gain_db)),
        full_v=full_v,
        available_v=available_v,
        spare_db=float(gain_between(full_v, available_v)),
        links=(
            *_source_links(source),
            Link("volume", volume_db, after_volume),
            *((Link("level", level_db, at_input),) if level_db < 0.0 else ()),
            Link("amplifier", gain_db, float(amplified_volts(at_input, gain_db))),
        ),
    )


def _source_links(source: Source) -> tuple[Link, ...]:
    peak_v = _SQRT2 * source_volts(source)
    if isinstance(source, PhonoSource):
        cartridge = Link("cartridge", None, _SQRT2 * _cartridge_v(source))
        return cartridge, Link("phono", source.phono_gain_db, peak_v)
    return (Link("line", None, peak_v),)


def _cartridge_v(source: PhonoSource) -> float:
    """What a cartridge gives at a record's highest peaks, as rms of a sine [V]."""
    return float(cartridge_volts(source.cartridge_mv, peak_velocity(source)))


def peak_velocity(source: PhonoSource) -> float:
    """Velocity of a record's highest peaks, by common practice unless the plan gives it [cm/s]."""
    return PEAK_VELOCITY_CM_S if source.peak_velocity_cm_s is None else source.peak_velocity_cm_s


def _phono_stage(source: PhonoSource, band_hz: FloatArray) -> PhonoStage:
    most, rms = source.phono_overload_v, source_volts(source)
    if most is None:
        return PhonoStage(_SQRT2 * rms, None, None)
    velocity = overload_velocity(band_hz, most, source.cartridge_mv, source.phono_gain_db)
    return PhonoStage(_SQRT2 * rms, float(gain_between(rms, most)), velocity)


def _overloads_first(system: System, gain_db: float, phono: PhonoStage | None) -> tuple[str, float]:
    """The part with the least above the peaks: the phono stage, or an amplifier by volts or amps."""
    margins = [
        (drive.amplifier.name, system.amplifier_limit(index).total_db - gain_db)
        for index, drive in enumerate(system.drives)
    ]
    if phono is not None and phono.overload_margin_db is not None:
        margins.append(("phono", phono.overload_margin_db))
    return min(margins, key=lambda one: one[1])
