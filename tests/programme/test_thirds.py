"""One-third octaves against plain whole-signal transforms, filters of another library and by hand."""

import numpy as np
import pytest
from scipy import signal

from planner.acoustics.bands import third_octaves
from planner.programme.overlap import Cutter, Joiner
from planner.programme.thirds import ThirdOctaves, fast_length
from tests.programme.signals import measured, pink, sine

THIRDS = third_octaves()


def sums(samples, rate_hz=48000, block=50_000):
    counter = ThirdOctaves(rate_hz, len(samples))
    for start in range(0, samples.shape[1], block):
        counter.feed(samples[:, start : start + block])
    return counter.finish()


def whole_transform(samples, rate_hz=48000):
    """Energy, coherence and envelope peak by one transform of the whole signal and sharp edges."""
    count = samples.shape[1]
    lines, frequency_hz = np.fft.rfft(samples), np.fft.rfftfreq(count, 1.0 / rate_hz)
    energy, coherence, peak = [], [], []
    for mid in THIRDS:
        inside = (frequency_hz >= mid * 10**-0.05) & (frequency_hz < mid * 10**0.05)
        band = np.where(inside, lines, 0.0)  # one-sided: its inverse is the analytic signal
        energy.append(2.0 * np.sum(np.abs(band) ** 2) / count)
        cross = np.sum((band[0] * band[-1].conj()).real)
        coherence.append(cross / np.sqrt(np.sum(np.abs(band[0]) ** 2) * np.sum(np.abs(band[-1]) ** 2)))
        peak.append(2.0 * np.abs(np.fft.ifft(band, count)).max())
    return np.array(energy), np.array(coherence), np.array(peak)


def music_like(seconds, seed=3, rate_hz=48000):
    """Two partly common noises whose level moves, with a beat."""
    count = seconds * rate_hz
    left, other = pink(count, rate_hz, seed), pink(count, rate_hz, seed + 1)
    beat = 0.3 + np.abs(np.sin(np.pi * np.arange(count) / rate_hz * 2.6)) ** 9
    return np.stack([left, 0.6 * left + 0.8 * other]) * beat


def test_that_levels_peaks_and_coherence_are_those_of_one_transform_of_the_whole():
    samples = music_like(20)
    energy, coherence, peak = whole_transform(samples)
    found = sums(samples)
    # Where a band has few lines in 20 s, one more or less at its edge is seen.
    tolerance_db = np.where(THIRDS < 100.0, 0.06, 0.02)
    assert np.all(np.abs(10.0 * np.log10(found.energy / energy)) < tolerance_db)
    s11, s22, s12 = found.cross
    assert s12 / np.sqrt(s11 * s22) == pytest.approx(coherence, abs=0.015)
    # A peak hangs on a few lines at the edges of its band more than the level does.
    peak_db = 20.0 * np.log10(found.peak / peak)
    assert np.abs(np.mean(peak_db[THIRDS > 100.0])) < 0.05
    assert np.all(np.abs(peak_db[THIRDS > 100.0]) < 0.4)
    assert np.all(np.abs(peak_db) < 0.6)


@pytest.mark.parametrize("rate_hz", [8000, 44100, 96000, 192000])
def test_that_other_sample_rates_give_the_same_levels(rate_hz):
    samples = music_like(8, rate_hz=rate_hz)
    with np.errstate(divide="ignore", invalid="ignore"):
        energy, _, _ = whole_transform(samples, rate_hz)
        difference_db = 10.0 * np.log10(sums(samples, rate_hz).energy / energy)
    whole = (rate_hz / 2.0 > THIRDS * 10**0.05) & (THIRDS > 150.0)
    assert np.all(np.abs(difference_db[whole]) < 0.05)
    assert np.all(energy[rate_hz / 2.0 < THIRDS * 10**-0.05] == 0.0)


@pytest.mark.parametrize("mid", [63.1, 251.2, 1000.0, 10000.0])
def test_that_pink_noise_has_the_level_that_filters_of_another_library_give(mid):
    # A Butterworth band-pass of scipy, order 10, passes 1.004 times the power between its edges.
    noise = pink(48000 * 30, seed=8)
    filters = signal.butter(10, [mid * 10**-0.05, mid * 10**0.05], "bandpass", fs=48000, output="sos")
    filtered_db = 10.0 * np.log10(np.mean(signal.sosfilt(filters, noise) ** 2) / 1.0041)
    band = int(np.argmin(np.abs(THIRDS - mid)))
    found_db = 10.0 * np.log10(sums(noise[np.newaxis]).energy[band] / noise.size)
    assert found_db == pytest.approx(filtered_db, abs=0.1)


@pytest.mark.parametrize("band", [0, 5, 13, 14, 20, 29])
def test_that_a_tone_lies_in_its_band_alone(band):
    tone = measured(sine(THIRDS[band], -6.0, 10.0))
    # By hand: a sine whose peak is at -6 dBFS has an RMS of -9.01 dBFS.
    assert tone.bands.level_dbfs[band] == pytest.approx(-9.01, abs=0.03)
    # It begins and ends all of a sudden: 9 % of overshoot, the integral of a sinc (any handbook).
    assert 3.0 < tone.bands.crest_db[band] < 3.01 + 0.80
    others = [level for index, level in enumerate(tone.bands.level_dbfs) if abs(index - band) > 1]
    assert max(level for level in others if level is not None) < -45.0


@pytest.mark.parametrize("band", [3, 9, 17, 28])
def test_that_a_tone_that_swells_has_its_own_energy_and_peak_in_the_band(band):
    swelling = sine(THIRDS[band], -6.0, 10.0) * np.hanning(480_000)
    found = sums(swelling[np.newaxis])
    assert found.energy[band] == pytest.approx(np.sum(swelling**2), rel=1e-4)
    assert 20.0 * np.log10(found.peak[band]) == pytest.approx(-6.0, abs=0.01)


def test_that_the_bands_together_hold_all_the_energy_between_their_ends():
    # Noise from 25 Hz to 18 kHz, made by taking away all other lines.
    samples = music_like(6)
    lines, frequency_hz = np.fft.rfft(samples), np.fft.rfftfreq(samples.shape[1], 1.0 / 48000)
    inside = np.where((frequency_hz > 25.0) & (frequency_hz < 18000.0), lines, 0.0)
    samples = np.fft.irfft(inside, samples.shape[1])
    assert sums(samples).energy.sum() == pytest.approx(np.sum(samples**2), rel=2e-4)


@pytest.mark.parametrize("rho", [-1.0, -0.5, 0.0, 0.3, 0.9, 1.0])
def test_that_the_coherence_of_a_known_mixture_is_found_in_every_band(rho):
    # By hand: R = rho L + sqrt(1 - rho^2) N has S12/sqrt(S11 S22) = rho.
    left, noise = pink(48000 * 20, seed=11), pink(48000 * 20, seed=12)
    right = rho * left + np.sqrt(1.0 - rho**2) * noise
    coherence = np.array(measured(np.stack([left, right])).bands.coherence)
    # Scatter of a correlation from n pairs: (1 - rho^2)/sqrt(n), n = 2 x bandwidth x time.
    scatter = (1.0 - rho**2) / np.sqrt(2.0 * 0.2308 * THIRDS * 20.0)
    # The two noises are of one power as a whole, within half a per cent in a band.
    assert np.all(np.abs(coherence - rho) < 4.0 * scatter + 0.003 * (1.0 - rho**2) + 1e-6)


def test_that_left_and_right_in_quadrature_are_not_coherent_and_mono_is_entirely():
    quadrature = np.stack([sine(1000.0, -6.0, 5.0), sine(1000.0, -6.0, 5.0, phase_deg=90.0)])
    assert measured(quadrature).bands.coherence[17] == pytest.approx(0.0, abs=0.01)
    mono = [rho for rho in measured(pink(96000)).bands.coherence if rho is not None]
    assert len(mono) == 31
    assert mono == pytest.approx([1.0] * 31)


def test_that_bands_beyond_the_sample_rate_and_silent_channels_have_no_value():
    low = measured(pink(40000, 8000), 8000).bands
    assert low.level_dbfs[24:] == (None,) * 7
    assert low.crest_db[24:] == (None,) * 7
    assert None not in low.level_dbfs[:24]
    one_sided = measured(np.stack([pink(96000), np.zeros(96000)])).bands
    assert one_sided.coherence == (None,) * 31
    # Over all channels: half of the mean square of the one that sounds.
    alone = measured(pink(96000)).bands
    assert np.array(one_sided.level_dbfs) == pytest.approx(np.array(alone.level_dbfs) - 3.0103, abs=1e-3)


@pytest.mark.parametrize("sizes", [(100,), (4096,), (1, 12_289, 777)])
def test_that_the_size_of_the_blocks_does_not_matter(sizes):
    samples = music_like(1)
    whole, pieces = measured(samples), measured(samples, sizes=sizes)
    assert pieces.bands.level_dbfs == pytest.approx(whole.bands.level_dbfs, abs=1e-4)
    assert pieces.bands.crest_db == pytest.approx(whole.bands.crest_db, abs=1e-3)


def test_that_blocks_join_without_a_seam():
    samples = np.random.default_rng(1).standard_normal((2, 10_000))
    cutter, joiner = Cutter(2, 256), Joiner(2, 256, 256, np.float64)
    blocks = np.concatenate([cutter.feed(samples), cutter.finish()], axis=1)
    energy = np.sum(blocks**2)
    joined = joiner.feed(blocks).reshape(2, -1)
    assert joined[:, 64 : 64 + 10_000] == pytest.approx(samples, abs=1e-12)
    assert energy == pytest.approx(np.sum(samples**2), rel=1e-12)


def test_that_fast_lengths_are_long_enough_and_have_small_factors():
    # By hand: 4 x 3^a x 5^b x 2^c.
    assert [fast_length(least) for least in (1, 9, 97, 101, 1000, 1001)] == [8, 12, 100, 108, 1000, 1024]
