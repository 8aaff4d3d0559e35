"""The programme as the engine takes it: power by band, likeness of the channels, crest factors."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import interpolate, third_octaves
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Programme
from planner.plan.recorded import inner_band
from planner.plan.recording import Recording
from planner.programme.sections import SectionBand
from planner.programme.spectra import shares

__all__ = ["coherence_of", "crests_of", "shares_of"]

FloatArray = NDArray[np.float64]
DEFAULT_COHERENCE_HZ = 150.0
DEFAULT_COHERENCE = (1.0, 0.5)
SILENT_SHARE = 1e-12
"""What a band of a recording has at least of the whole: a band with nothing in it has no headroom."""

_BAND_HZ = third_octaves()


def shares_of(programme: Programme) -> FloatArray:
    """Share of the programme's power in each one-third octave from 20 Hz to 20 kHz, (B,); sums to 1."""
    recording = programme.recording
    return _typical(programme.kind) if recording is None else _recorded(recording)


@cache
def _typical(kind: str) -> FloatArray:
    return np.asarray(shares(kind, _BAND_HZ))


def _recorded(recording: Recording) -> FloatArray:
    hz, level_db = np.array(recording.bands).T
    band = np.abs(np.log(_BAND_HZ[:, None] / hz)).argmin(axis=0)
    power = np.bincount(band, weights=10.0 ** ((level_db - level_db.max()) / 10.0), minlength=_BAND_HZ.size)
    power = np.maximum(power, SILENT_SHARE * power.sum())
    return np.asarray(power / power.sum())


def coherence_of(programme: Programme, band_hz: FloatArray) -> FloatArray:
    """Likeness of the stands' signals by band: the plan's own table, else the recording's, else the usual."""
    table = programme.coherence
    if table is None and programme.recording is not None:
        table = programme.recording.coherence
    if table is None:
        return np.where(band_hz < DEFAULT_COHERENCE_HZ, *DEFAULT_COHERENCE)
    hz, rho = np.array(table).T
    return np.asarray(interpolate(band_hz, hz, rho))


def crests_of(programme: Programme, loudspeaker: Loudspeaker) -> tuple[float, ...]:
    """Crest factor of what each section of a loudspeaker gets, (S) [dB].

    Where the recording was read with this section's electrical edges, its peak there over its RMS there;
    this moves with the programme's own crest factor, which is held against that of the whole recording.
    Elsewhere the programme's.
    """
    known = _known_crests(programme.recording)
    moved_db = programme.crest_db - programme.recording.crest_db if programme.recording else 0.0
    bands = (inner_band(loudspeaker.sections, index) for index in range(len(loudspeaker.sections)))
    return tuple(max(known[band] + moved_db, 0.0) if band in known else programme.crest_db for band in bands)


def _known_crests(recording: Recording | None) -> dict[SectionBand, float]:
    if recording is None:
        return {}
    return {
        SectionBand(one.low_hz, one.high_hz, one.slopes_db_per_octave): one.crest_db
        for one in recording.sections
    }
