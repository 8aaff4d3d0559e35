"""Loudness against the synthetic cases of EBU Tech 3341 and 3342."""

import csv
from pathlib import Path

import numpy as np
import pytest

from planner.programme.k_weighting import k_sections
from planner.programme.loudness import (
    channel_weights,
    integrated_loudness,
    loudness_range,
    momentary_loudness,
    short_term_loudness,
)
from planner.programme.recursion import BlockFilter
from planner.programme.steps import StepTrack
from tests.programme.signals import in_turn, measured, pink, sine, stereo

CASES = Path(__file__).parents[1] / "reference" / "loudness_cases.csv"


def cases(document):
    with open(CASES, newline="", encoding="utf-8") as file:
        return {row["case"]: row for row in csv.DictReader(file) if row["document"].startswith(document)}


TECH_3341, TECH_3342 = cases("EBU Tech 3341"), cases("EBU Tech 3342")


def k_steps(samples, rate_hz=48000):
    """K-weighted powers of 20 ms, channels weighted and summed (n,)."""
    heard = BlockFilter(k_sections(rate_hz), len(samples))(samples)
    track = StepTrack(rate_hz, np.add)
    track.feed(np.einsum("c,cn,cn->n", channel_weights(len(samples)), heard, heard))
    return track.finish()[: samples.shape[1] * 50 // rate_hz] / (rate_hz / 50)


@pytest.mark.parametrize("channel", [0, 1, 2], ids=["left", "right", "centre"])
def test_that_the_anchor_reads_minus_3_01(channel):
    # ITU-R BS.1770-5 annex 1: 997 Hz at 0 dBFS in one front channel.
    samples = np.zeros((5, 20 * 48000))
    samples[channel] = sine(997.0, 0.0, 20.0)
    assert measured(samples).integrated_lufs == pytest.approx(-3.01, abs=0.01)


SURROUND = np.stack([sine(1000.0, level_db, 20.0) for level_db in (-28.0, -28.0, -24.0, -30.0, -30.0)])
INTEGRATED = {
    "1": stereo(in_turn((-23.0, 20.0))),
    "2": stereo(in_turn((-33.0, 20.0))),
    "3": stereo(in_turn((-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0))),
    "4": stereo(in_turn((-72.0, 10.0), (-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0), (-72.0, 10.0))),
    "5": stereo(in_turn((-26.0, 20.0), (-20.0, 20.1), (-26.0, 20.0))),
    "6": SURROUND,
}


@pytest.mark.parametrize("case", INTEGRATED)
def test_that_integrated_loudness_is_that_of_the_published_case(case):
    row = TECH_3341[case]
    found = measured(INTEGRATED[case]).integrated_lufs
    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("case", ["1", "2"])
def test_that_a_steady_tone_reads_the_same_momentary_short_term_and_integrated(case):
    row = TECH_3341[case]
    steps = k_steps(INTEGRATED[case])
    for loudness in (momentary_loudness(steps)[25:], short_term_loudness(steps)[25:]):
        assert loudness == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


def test_that_the_low_frequency_channel_of_six_does_not_count():
    six = np.insert(SURROUND, 3, sine(50.0, 0.0, 20.0), axis=0)
    assert measured(six).integrated_lufs == pytest.approx(measured(SURROUND).integrated_lufs, abs=1e-9)


@pytest.mark.parametrize(
    ("case", "loudness", "parts", "settled"),
    [
        ("9", short_term_loudness, [(-20.0, 1.34), (-30.0, 1.66)] * 5, 0),
        ("12", momentary_loudness, [(-20.0, 0.18), (-30.0, 0.22)] * 25, 30),
    ],
)
def test_that_a_pattern_of_the_windows_own_length_reads_constant(case, loudness, parts, settled):
    row = TECH_3341[case]
    readings = loudness(k_steps(stereo(in_turn(*parts))))[settled:]
    assert readings.size > 50
    assert readings == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("step", range(20))
@pytest.mark.parametrize(
    ("case", "loudness", "silence_s", "tone_s"),
    [("10", short_term_loudness, 0.15, 3.0), ("13", momentary_loudness, 0.02, 0.4)],
)
def test_that_the_largest_reading_does_not_depend_on_where_a_tone_begins(
    case, loudness, silence_s, tone_s, step
):
    row = TECH_3341[case]
    steps = k_steps(stereo(in_turn((None, step * silence_s), (-23.0, tone_s), (None, 1.0))))
    assert loudness(steps).max() == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize(
    ("case", "loudness", "silence_s", "tone_s"),
    [("11", short_term_loudness, 0.15, 3.0), ("14", momentary_loudness, 0.02, 0.4)],
)
def test_that_the_running_maximum_follows_each_louder_tone(case, loudness, silence_s, tone_s):
    parts = []
    for step in range(20):
        parts += [(None, step * silence_s), (-38.0 + step, tone_s), (None, tone_s - step * silence_s)]
    readings = loudness(k_steps(stereo(in_turn(*parts))))
    length, window = round(2 * tone_s * 50), round(tone_s * 50)
    tolerance = float(TECH_3341[case]["tolerance"])
    for step in range(20):
        seen = readings[: (step + 1) * length - window + 1]
        assert seen.max() == pytest.approx(-38.0 + step, abs=tolerance)


RANGES = {
    "1": [(-20.0, 20.0), (-30.0, 20.0)],
    "2": [(-20.0, 20.0), (-15.0, 20.0)],
    "3": [(-40.0, 20.0), (-20.0, 20.0)],
    "4": [(-50.0, 20.0), (-35.0, 20.0), (-20.0, 20.0), (-35.0, 20.0), (-50.0, 20.0)],
}


@pytest.mark.parametrize("case", RANGES)
def test_that_loudness_range_is_that_of_the_published_case(case):
    row = TECH_3342[case]
    found = measured(stereo(in_turn(*RANGES[case]))).loudness_range_lu
    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize(
    # At the lowest rates the bilinear transform squeezes the shelf below half the rate.
    ("rate_hz", "tolerance"),
    [(8000, 0.21), (11025, 0.11), (22050, 0.03), (44100, 0.01), (96000, 0.01), (768000, 0.01)],
)
def test_that_the_loudness_of_a_tone_does_not_depend_on_the_sample_rate(rate_hz, tolerance):
    tone = sine(997.0, -20.0, 2.0, rate_hz)
    assert measured(tone, rate_hz).integrated_lufs == pytest.approx(-23.01, abs=tolerance)


def test_that_another_meter_reads_the_same_on_noise():
    # pyloudnorm designs its own filter and reads 0.02 to 0.06 LU low on tones.
    meter = pytest.importorskip("pyloudnorm").Meter(48000)
    noise = np.stack([pink(480_000, seed=1), 0.5 * pink(480_000, seed=2)])
    noise[:, 240_000:] *= 0.2
    found = measured(noise).integrated_lufs
    assert found == pytest.approx(meter.integrated_loudness(noise.T), abs=0.07)


def test_that_what_is_too_short_or_too_quiet_has_no_loudness():
    assert integrated_loudness(np.full(19, 0.1)) is None
    assert loudness_range(np.full(149, 0.1)) is None
    assert integrated_loudness(np.full(500, 1e-9)) is None
    assert loudness_range(np.full(500, 1e-9)) is None
    assert momentary_loudness(np.full(19, 0.1)).size == 0


def test_that_steps_of_a_tenth_of_a_second_give_the_same_gated_values():
    power = np.abs(np.random.default_rng(5).standard_normal(3000)) * np.repeat([0.1, 0.001, 0.01], 1000)
    tenths = power.reshape(-1, 5).mean(axis=1)
    assert integrated_loudness(tenths, 10) == pytest.approx(integrated_loudness(power), abs=1e-9)
    assert loudness_range(tenths, 10) == pytest.approx(loudness_range(power), abs=1e-9)


def test_that_impossible_powers_and_steps_are_refused():
    with pytest.raises(ValueError, match="step_power must be at least 0"):
        integrated_loudness([0.1, -0.1])
    with pytest.raises(ValueError, match="steps_per_second must be a multiple of 10, got 25"):
        loudness_range(np.ones(500), 25)
    with pytest.raises(ValueError, match="channels must be at least 1"):
        channel_weights(0)
