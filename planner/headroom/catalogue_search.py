"""Which entries of the catalogue can do what is asked: how loud for a watt, how many watts, how large."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import clip_of, rating_in_use
from planner.headroom.scene import BAND_HZ, Scene
from planner.headroom.sources import sources_of
from planner.headroom.wired import wired_impedance
from planner.plan.amplifier import Amplifier
from planner.plan.catalogue import KINDS, AmplifierEntry, Entry, LoudspeakerEntry, title_of
from planner.plan.loudspeaker import Loudspeaker
from planner.programme.spectra import shares

__all__ = ["Found", "Wants", "rated_watts", "search", "sensitivity_db"]

FloatArray = NDArray[np.float64]
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Wants:
    """What an entry must do; what is None or empty is not asked.

    ``words`` must all stand in the name. ``least_watts`` are sine watts into ``into_ohm`` at a distortion
    of ``at_distortion_pct`` or less. ``most_footprint_m`` is width and depth, turned either way. An entry
    that does not say what is asked does not match.
    """

    kind: str | None = None
    words: str = ""
    least_sensitivity_db: float | None = None
    least_watts: float | None = None
    into_ohm: float = 8.0
    at_distortion_pct: float = 3.0
    most_mass_kg: float | None = None
    most_footprint_m: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """An entry with the figures it was judged by, None where its kind has none or it does not say.

    ``watts`` are what it gives into the asked load; ``distortion_pct`` is that of the rating behind them,
    above what was asked if it has none so low.
    """

    entry: Entry
    sensitivity_db: float | None
    watts: float | None
    distortion_pct: float | None
    mass_kg: float | None
    footprint_m: tuple[float, float] | None


def search(entries: Iterable[Entry], wants: Wants) -> tuple[Found, ...]:
    """The entries that do all that is asked: the loudest for a watt first, amplifiers with the fewest watts.

    Kinds follow one another as in the catalogue; what has no such figure is sorted by name.
    """
    found = [_figures(entry, wants) for entry in entries if _named(entry, wants)]
    return tuple(sorted((one for one in found if _does(one, wants)), key=_order))


def sensitivity_db(loudspeaker: Loudspeaker) -> float | None:
    """Level at 1 m on the axis for 1 W of programme, within the band that the loudspeaker covers [dB].

    The programme is the simulated one of IEC 60268-1; for a flat loudspeaker the level is the stated one.
    As that, it is into half space or free field, before baffle step and outer edges. Where each section has
    its own amplifier, it is that of the least sensitive section, to which the others are trimmed. None
    where no impedance says what 1 W is.

    Examples
    --------
    By hand: 96 dB for 2.83 V into 4 ohm are 2 W, so 1 W makes 3.01 dB less.

    >>> from planner.plan.presets import SYSTEM
    >>> data = {**SYSTEM["loudspeaker"], "impedance": {"nominal_ohm": 4.0}}
    >>> print(f"{sensitivity_db(Loudspeaker.model_validate(data)):.2f} dB")
    92.99 dB
    """
    sections, whole = loudspeaker.sections, loudspeaker.impedance
    given = [whole or wired_impedance(section) for section in sections]
    driven = [impedance for impedance in given if impedance is not None]
    if len(driven) < len(sections):
        return None
    sources = sources_of(loudspeaker, driven, _ON_AXIS)
    by_watt = sources.flat * sources.response * sources.one_watt_volts[:, None]
    if whole is not None:
        together = (by_watt * sources.inner).sum(axis=0)
        return _level_db(together, sections[0].low_hz, sections[-1].high_hz)
    alone = zip(sections, by_watt, strict=True)
    return min(_level_db(pressure, section.low_hz, section.high_hz) for section, pressure in alone)


def rated_watts(amplifier: Amplifier, ohm: float, at_distortion_pct: float) -> tuple[float, float]:
    """Sine watts into a resistance, and the distortion [%] of the rating in use.

    That rating, its tap and where it clips are found as for an outcome: into the rated load it is the
    rating itself, into another what volts and amps allow.
    """
    rating = rating_in_use(amplifier, ohm, at_distortion_pct)
    volts, amps = clip_of(amplifier, rating, at_distortion_pct)
    swing = volts * (1.0 + rating.output_ohm / rating.ohm) * ohm / (ohm + rating.output_ohm)
    return min(swing, amps * ohm) ** 2 / (2.0 * ohm), rating.distortion_pct


_ON_AXIS = Scene(
    band_hz=BAND_HZ,
    axis=np.array([[1.0, 0.0, 0.0]]),
    distance_m=np.ones((1, 1)),
    azimuth_deg=np.zeros((1, 1)),
    elevation_deg=np.zeros((1, 1)),
    angle_deg=np.zeros((1, 1)),
    air_db_m=np.zeros(BAND_HZ.shape),
    coherence=np.ones(BAND_HZ.shape),
    sound_speed=343.2,
)
"""One seat at 1 m, on the axis of one stand."""


def _level_db(pressure: FloatArray, low_hz: float, high_hz: float) -> float:
    """Level of a pressure re 20 µPa by band (B,), weighted as the programme is between two edges."""
    inside = (low_hz <= BAND_HZ) & (high_hz >= BAND_HZ)
    if not inside.any():
        inside = np.arange(BAND_HZ.size) == np.argmin(np.abs(np.log(BAND_HZ**2 / low_hz / high_hz)))
    weights = np.asarray(shares("simulated", BAND_HZ)) * inside
    return float(10.0 * np.log10(np.sum(weights * pressure**2) / np.sum(weights)))


@lru_cache(maxsize=1024)
def _known_sensitivity_db(loudspeaker: Loudspeaker) -> float | None:
    """:func:`sensitivity_db`, remembered: a search runs at every letter that is typed."""
    return sensitivity_db(loudspeaker)


def _figures(entry: Entry, wants: Wants) -> Found:
    if isinstance(entry, LoudspeakerEntry):
        level = _known_sensitivity_db(entry.data)
        return Found(entry, level, None, None, entry.data.mass_kg, entry.data.footprint_m)
    if isinstance(entry, AmplifierEntry):
        watts, distortion = rated_watts(entry.data, wants.into_ohm, wants.at_distortion_pct)
        return Found(entry, None, watts, distortion, entry.data.mass_kg, entry.data.footprint_m)
    return Found(entry, None, None, None, None, None)


def _named(entry: Entry, wants: Wants) -> bool:
    title = _plain(title_of(entry))
    return wants.kind in (None, entry.kind) and all(word in title for word in _plain(wants.words).split())


def _plain(text: str) -> str:
    return unicodedata.normalize("NFKC", text).casefold()


def _does(found: Found, wants: Wants) -> bool:
    clean = wants.least_watts is None or _at_most(found.distortion_pct, wants.at_distortion_pct)
    return (
        _at_least(found.sensitivity_db, wants.least_sensitivity_db)
        and _at_least(found.watts, wants.least_watts)
        and clean
        and _at_most(found.mass_kg, wants.most_mass_kg)
        and _fits(found.footprint_m, wants.most_footprint_m)
    )


def _at_least(value: float | None, least: float | None) -> bool:
    """Whether a figure reaches what is asked, but for rounding: 10 W by way of their volts are 10 W."""
    return least is None or (value is not None and value >= least * (1.0 - ROUNDING))


def _at_most(value: float | None, most: float | None) -> bool:
    return most is None or (value is not None and value <= most)


def _fits(size: tuple[float, float] | None, most: tuple[float, float] | None) -> bool:
    if size is None or most is None:
        return most is None
    return all(has <= may for has, may in zip(sorted(size), sorted(most), strict=True))


def _order(found: Found) -> tuple[int, float, str]:
    level = 0.0 if found.sensitivity_db is None else found.sensitivity_db
    return KINDS.index(found.entry.kind), (found.watts or 0.0) - level, _plain(title_of(found.entry))
