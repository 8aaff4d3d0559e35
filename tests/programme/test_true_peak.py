"""True peak against the synthetic cases of EBU Tech 3341 and against another oversampling."""

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy import signal

from planner.programme.true_peak import TruePeak, interpolator

CASES = Path(__file__).parents[1] / "reference" / "loudness_cases.csv"
with open(CASES, newline="", encoding="utf-8") as file:
    TRUE_PEAKS = [row for row in csv.DictReader(file) if row["unit"] == "dBTP"]
EXPECTED_DBTP = {row["case"]: float(row["expected"]) for row in TRUE_PEAKS}


def true_peak_db(samples, block=10_000):
    meter = TruePeak(len(samples))
    for start in range(0, samples.shape[1], block):
        meter.feed(samples[:, start : start + block].astype(np.float32))
    return 20.0 * np.log10(meter.finish())


def faded(samples):
    """Without the step at either end, whose own overshoot is no error of the meter."""
    ramp = np.minimum(1.0, np.arange(samples.size) / 480.0)
    return samples * ramp * ramp[::-1]


@pytest.mark.parametrize(
    ("case", "period", "amplitude", "phase_deg"),
    [
        ("15", 4, 0.5, 0.0),
        ("16", 4, 0.5, 45.0),
        ("17", 6, 0.5, 60.0),
        ("18", 8, 0.5, 67.5),
        ("19", 4, 1.41, 45.0),
    ],
)
def test_that_the_true_peak_of_a_tone_is_that_of_the_published_case(case, period, amplitude, phase_deg):
    tone = amplitude * np.sin(2.0 * np.pi * np.arange(48000) / period + np.radians(phase_deg))
    found = true_peak_db(faded(tone)[np.newaxis])
    assert EXPECTED_DBTP[case] - 0.4 <= found <= EXPECTED_DBTP[case] + 0.2


@pytest.mark.parametrize("offset", range(4))
def test_that_a_single_period_is_found_wherever_the_samples_fall(offset):
    # Cases 20 to 23: one period of fs/4 inside a tone of fs/6, made at four times the rate.
    tone = 0.5 * np.sin(2.0 * np.pi * np.arange(24 * 400) / 24.0)
    period = np.sin(2.0 * np.pi * np.arange(16) / 16.0)
    whole = np.concatenate([tone[: 24 * 200], period, tone[24 * 200 :]])
    found = true_peak_db(faded(whole)[np.newaxis, offset::4])
    assert EXPECTED_DBTP["20-23"] - 0.4 <= found <= EXPECTED_DBTP["20-23"] + 0.2


def test_that_the_interpolator_is_flat_within_a_hundredth_of_a_db_up_to_20_khz_at_44_1_khz():
    taps = interpolator()
    frequency = np.linspace(0.0, 20000.0 / 44100.0, 300)
    place = np.arange(48) - 23 - np.arange(1, 4)[:, np.newaxis] / 4.0
    response = np.einsum("pt,ptf->pf", taps, np.exp(-2j * np.pi * place[..., np.newaxis] * frequency))
    assert np.abs(20.0 * np.log10(np.abs(response))).max() < 0.01
    assert np.abs(np.angle(response)).max() < 0.01


@pytest.mark.parametrize("block", [37, 1000, 4096, 48000])
def test_that_blocks_of_any_size_give_the_peak_of_another_oversampling(block):
    # scipy's Fourier resampling to four times the rate, of noise up to 0.4 of the rate.
    rng = np.random.default_rng(block)
    noise = signal.sosfiltfilt(signal.butter(10, 0.7, output="sos"), rng.standard_normal((2, 48000)))
    noise = noise * np.hanning(48000)
    reference_db = 20.0 * np.log10(np.abs(signal.resample(noise, 4 * 48000, axis=1)).max())
    assert true_peak_db(noise, block) == pytest.approx(reference_db, abs=0.01)


def test_that_a_peak_at_the_very_end_is_not_lost():
    samples = np.zeros((1, 4800))
    samples[0, -2:] = 0.7
    # Two equal samples at the end: the sinc of both has its top half way between them.
    assert true_peak_db(samples) > 20.0 * np.log10(0.7) + 1.0


def test_that_the_true_peak_is_never_below_the_sample_peak():
    samples = np.zeros((2, 5000))
    samples[1, 777] = -1.0
    assert true_peak_db(samples) == pytest.approx(0.0, abs=1e-6)
