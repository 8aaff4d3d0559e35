"""What a residual and a phono stage put into each third octave, before the loudspeaker."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import weighting
from planner.electrics.gain import riaa_gain_db
from planner.electrics.noise import (
    HUM_SHARES,
    hiss_shares,
    hum_frequencies,
    tones_in_bands,
    unweighted_volts,
)
from planner.headroom.gain import chain_emf
from planner.headroom.system import System
from planner.plan.amplifier import PhonoSource, Residual
from planner.plan.model import Plan

__all__ = ["phono_spectrum", "residual_spectrum"]

FloatArray = NDArray[np.float64]


def residual_spectrum(residual: Residual, band_hz: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Mean square volts of hum and hiss by band, plain and A-weighted, each (2, B).

    The figures hold at the loudspeaker's terminals whatever the load. Hum is weighted at its own
    frequencies, not at the mids of their bands, which would read 0.9 dB more at 60 Hz.
    """
    tones = hum_frequencies(residual.mains_hz)
    tone_a, band_a = weighting(tones, "A"), weighting(band_hz, "A")
    hum, hiss = residual.hum_mv / 1000.0, residual.hiss_mv / 1000.0
    shares = hiss_shares(band_hz)
    if residual.weighting == "A":
        hum = float(unweighted_volts(hum, HUM_SHARES, tone_a))
        hiss = float(unweighted_volts(hiss, shares, band_a))
    holds = tones_in_bands(tones, band_hz)
    hum_v2 = hum**2 * HUM_SHARES
    hum_a = hum_v2 * 10.0 ** (tone_a / 10.0)
    hiss_v2 = hiss**2 * shares
    hiss_a = hiss_v2 * 10.0 ** (band_a / 10.0)
    return np.array([hum_v2 @ holds, hiss_v2]), np.array([hum_a @ holds, hiss_a])


def phono_spectrum(system: System, plan: Plan) -> FloatArray | None:
    """Mean square EMF of the phono stage's noise, before the crossover, (K, 1, B).

    Its figure is taken as the rms at its input, white from 20 Hz to 20 kHz and unweighted, that would
    make its noise: gain and playback curve follow, then volume control and amplifiers as they are set for
    the target at each seat. None where the chain or the figure is not known.
    """
    source, emf = system.candidate.source, chain_emf(system, plan)
    if not isinstance(source, PhonoSource) or source.phono_noise_uv is None or emf is None:
        return None
    band_hz = system.stage.scene.band_hz
    gain_db = source.phono_gain_db + riaa_gain_db(band_hz)
    after = (1e-6 * source.phono_noise_uv) ** 2 * hiss_shares(band_hz) * 10.0 ** (gain_db / 10.0)
    return np.asarray(emf[:, None, None] ** 2 * after)
