"""Decays: synthetic ones, published times of a measured room, and what is refused."""

import re
from pathlib import Path

import numpy as np
import pytest
import soundfile

from planner.acoustics.bands import OCTAVE_KEYS
from planner.measurements.decay import OCTAVES, decay_of
from planner.measurements.errors import MeasurementError
from planner.measurements.schroeder import decay_curve, fitted_time

RATE_HZ = 48000
MIDS = np.array([OCTAVE_KEYS[label] for label in OCTAVES])


def tones(t60_s, seconds, rate_hz=RATE_HZ, lead_s=0.02):
    """A decaying tone in the middle of each octave, after a silence (n,)."""
    time_s = np.arange(round(seconds * rate_hz)) / rate_hz
    mids = MIDS[rate_hz / 2.0 > MIDS * 1.4125]
    decaying = 10.0 ** (-3.0 * time_s / t60_s) * np.sin(2.0 * np.pi * mids[:, np.newaxis] * time_s).sum(
        axis=0
    )
    return np.concatenate([np.zeros(round(lead_s * rate_hz)), decaying])


def room(t60_s, seconds, noise_db=None, seed=1):
    """Decaying noise, and steady noise at a level re its beginning (n,)."""
    rng = np.random.default_rng(seed)
    time_s = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    response = rng.standard_normal(time_s.size) * 10.0 ** (-3.0 * time_s / t60_s)
    if noise_db is not None:
        response += 10.0 ** (noise_db / 20.0) * rng.standard_normal(time_s.size)
    return np.concatenate([np.zeros(1000), response])


def values(decay, name):
    return np.array([np.nan if getattr(band, name) is None else getattr(band, name) for band in decay.bands])


@pytest.mark.parametrize("name", ["edt_s", "t20_s", "t30_s"])
@pytest.mark.parametrize("t60_s", [0.25, 0.5, 1.0, 2.5, 6.0])
def test_that_a_synthetic_decay_is_found_within_a_hundredth(t60_s, name):
    found = values(decay_of(tones(t60_s, 1.6 * t60_s), RATE_HZ), name)
    assert found == pytest.approx(np.full(7, t60_s), rel=0.01)


@pytest.mark.parametrize("rate_hz", [16000, 44100, 96000])
def test_that_the_sample_rate_changes_nothing_but_the_number_of_octaves(rate_hz):
    found = decay_of(tones(0.8, 1.3, rate_hz), rate_hz)
    assert len(found.bands) == (6 if rate_hz == 16000 else 7)
    assert values(found, "t30_s") == pytest.approx(np.full(len(found.bands), 0.8), rel=0.01)


@pytest.mark.parametrize(("t60_s", "noise_db"), [(0.4, -55.0), (1.0, -60.0), (2.0, -55.0)])
def test_that_decays_of_noise_in_noise_are_right_on_average(t60_s, noise_db):
    # Twelve rooms: one alone scatters by 10 % at 125 Hz and 1 % at 8 kHz (bandwidth x time, any method).
    rooms = [decay_of(room(t60_s, 2.5 * t60_s, noise_db, seed), RATE_HZ) for seed in range(12)]
    means = np.mean([values(decay, "t30_s") for decay in rooms], axis=0)
    scatter = 0.8 / np.sqrt(MIDS * 0.7 * t60_s) / np.sqrt(12.0)
    assert np.all(np.abs(means / t60_s - 1.0) < 3.0 * scatter + 0.005)


def test_that_noise_would_lengthen_the_decay_were_it_not_compensated():
    response = room(1.0, 4.0, -47.0)
    energy = response[1000:] ** 2
    curve = decay_curve(energy, RATE_HZ)
    plain = 10.0 * np.log10(np.cumsum(energy[::-1])[::-1] / energy.sum())
    first, last = np.argmax(plain <= -5.0), np.argmax(plain <= -35.0)
    slope = np.polyfit(np.arange(first, last) / RATE_HZ, plain[first:last], 1)[0]
    assert -60.0 / slope > 1.1
    assert fitted_time(curve, RATE_HZ, -5.0, -35.0) == pytest.approx(1.0, abs=0.02)
    assert curve.range_db == pytest.approx(47.0, abs=1.0)


@pytest.mark.parametrize(
    ("noise_db", "lacking"), [(-50.0, ""), (-40.0, "T30"), (-28.0, "T20, T30"), (-12.0, "EDT")]
)
def test_that_too_small_a_range_is_refused_plainly(noise_db, lacking):
    band = decay_of(room(1.0, 3.0, noise_db), RATE_HZ).bands[4]
    assert band.range_db == pytest.approx(-noise_db, abs=1.5)
    assert (band.t30_s is None) == ("T30" in lacking or lacking == "EDT")
    assert (band.t20_s is None) == ("T20" in lacking or lacking == "EDT")
    assert (band.edt_s is None) == (band.c80_db is None) == (band.d50 is None) == (lacking == "EDT")
    assert lacking in band.refusal
    assert bool(lacking) == bool(
        re.match(r"the decay falls only \d+ dB to the noise, \d+ dB are needed", band.refusal)
    )


def test_that_a_response_cut_off_before_it_has_fallen_far_enough_is_not_stretched():
    # By hand: 0.6 s of a decay of 60 dB a second are 36 dB, of which the last tenth is not used.
    band = decay_of(room(1.0, 0.6), RATE_HZ).bands[5]
    assert band.range_db == pytest.approx(32.4, abs=2.0)
    assert band.t30_s is None
    assert band.edt_s == pytest.approx(1.0, rel=0.15)


def test_that_noise_alone_is_no_decay():
    steady = np.random.default_rng(3).standard_normal(RATE_HZ)
    assert {band.t20_s for band in decay_of(steady, RATE_HZ).bands} == {None}
    assert {bool(band.refusal) for band in decay_of(steady, RATE_HZ).bands} == {True}


@pytest.mark.parametrize("t60_s", [0.5, 1.5])
def test_that_clarity_and_definition_are_those_of_an_exponential_decay(t60_s):
    # ISO 3382-1 annex A, for an exponential: C80 = 10 lg(10^(6 x 0.08/T) - 1), D50 = 1 - 10^(-6 x 0.05/T).
    decay = decay_of(tones(t60_s, 1.6 * t60_s), RATE_HZ)
    # A tone that begins at zero has a little less at first.
    assert values(decay, "c80_db") == pytest.approx(10.0 * np.log10(10.0 ** (0.48 / t60_s) - 1.0), abs=0.25)
    assert values(decay, "d50") == pytest.approx(1.0 - 10.0 ** (-0.3 / t60_s), abs=0.01)


# A living room measured for the Open AIR Library of the University of York (public domain), with the times
# that the tests of python-acoustics 0.2.6 (BSD-3-Clause) state for it, 125 Hz to 8 kHz.
LIVING_ROOM = Path(__file__).parent / "living_room.wav"
PUBLISHED = {
    "t30_s": [0.365, 0.303, 0.259, 0.227, 0.211, 0.204, 0.181],
    "t20_s": [0.365, 0.151, 0.156, 0.102, 0.076, 0.146, 0.152],
}


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_a_measured_room_has_its_published_times_within_5_per_cent(name):
    response, rate_hz = soundfile.read(LIVING_ROOM)
    assert values(decay_of(response, rate_hz), name) == pytest.approx(np.array(PUBLISHED[name]), rel=0.05)


def test_that_a_measured_room_has_its_published_clarity_within_half_a_db():
    published = [23.077, 27.015, 31.743, 35.469, 36.836, 33.463, 36.062]
    response, rate_hz = soundfile.read(LIVING_ROOM)
    assert values(decay_of(response, rate_hz), "c80_db") == pytest.approx(np.array(published), abs=0.5)


def test_that_scale_and_lead_change_nothing():
    plain = decay_of(tones(0.6, 1.0), RATE_HZ)
    moved = decay_of(-3e-4 * np.concatenate([np.zeros(7000), tones(0.6, 1.0)]), RATE_HZ)
    assert values(moved, "t30_s") == pytest.approx(values(plain, "t30_s"), rel=1e-3)
    assert values(moved, "c80_db") == pytest.approx(values(plain, "c80_db"), abs=0.01)


def test_that_a_plan_gets_the_best_time_of_each_octave_and_nothing_where_there_is_none():
    quiet = decay_of(tones(0.6, 1.0), RATE_HZ)
    assert list(quiet.measured_t60_s()) == list(OCTAVES)
    assert quiet.measured_t60_s()["1000"] == quiet.bands[3].t30_s
    noisy = decay_of(room(1.0, 3.0, -40.0), RATE_HZ)
    assert noisy.measured_t60_s()["4000"] == noisy.bands[5].t20_s
    assert decay_of(room(1.0, 3.0, -15.0), RATE_HZ).measured_t60_s() == {}


@pytest.mark.parametrize(
    ("response", "message"),
    [
        (np.zeros(0), "is 0.0 ms long, too short for a decay; give the whole impulse response"),
        (np.ones(100), "is 2.1 ms long, too short"),
        (np.zeros(48000), "is silent or a constant offset; give an impulse response"),
        (np.full(48000, 0.3), "is silent or a constant offset"),
        (np.append(np.ones(48000), np.nan), "holds samples that are no numbers; save it again"),
    ],
)
def test_that_what_is_no_impulse_response_is_refused(response, message):
    with pytest.raises(MeasurementError, match=re.escape(message)):
        decay_of(response, RATE_HZ)
