"""Statistics of signals whose values are known by hand, and of noise against plain numpy."""

import json
from dataclasses import asdict

import numpy as np
import pytest
from pydantic import TypeAdapter
from scipy import signal

from planner.programme.amplitudes import clipped_share
from planner.programme.clipping import clipping
from planner.programme.sections import SectionBand, section_gain
from planner.programme.statistics import RecordingStatistics, statistics_of
from planner.programme.tally import joined
from tests.programme.signals import counted, measured, pink, sine, stereo


def lively(seconds, seed=5):
    """Noise of two partly common channels whose level moves (2, n)."""
    count = seconds * 48000
    left, other = pink(count, seed=seed), pink(count, seed=seed + 1)
    moving = 0.2 + np.abs(np.sin(np.arange(count) / 48000 * 2.1)) ** 5
    return np.stack([left, 0.7 * left + 0.7 * other]) * moving


@pytest.mark.parametrize(
    ("wave", "rms_dbfs", "crest_db"),
    # By hand, RMS re the peak: square 1, sine 1/sqrt(2), triangle 1/sqrt(3), two sines 1/2.
    [
        pytest.param(lambda t: np.sign(np.sin(t) + 1e-12), 0.0, 0.0, id="square"),
        pytest.param(np.sin, -3.0103, 3.0103, id="sine"),
        pytest.param(lambda t: signal.sawtooth(t, 0.5), -4.7712, 4.7712, id="triangle"),
        pytest.param(lambda t: 0.5 * (np.sin(t) + np.sin(t * np.sqrt(2.0))), -6.0206, 6.0206, id="two sines"),
    ],
)
def test_that_level_and_crest_of_simple_waves_are_those_of_a_hand_calculation(wave, rms_dbfs, crest_db):
    found = measured(wave(np.arange(480_000) * 2.0 * np.pi / 960.0 + 1e-3))
    assert found.rms_dbfs == pytest.approx(rms_dbfs, abs=0.01)
    assert found.crest_db == pytest.approx(crest_db, abs=0.01)
    assert found.loud_crest_db == pytest.approx(crest_db, abs=0.01)


def test_that_noise_clipped_to_twice_its_rms_has_a_crest_of_6_db():
    # AES2: the test noise; computed by hand 20 log10(2). Clipping lowers the RMS again by 0.3 dB.
    noise = pink(480_000)
    clipped = np.clip(noise, -0.2, 0.2)
    found = measured(clipped).crest_db
    assert found == pytest.approx(20.0 * np.log10(0.2 / np.sqrt(np.mean(clipped**2))), abs=1e-4)
    assert 6.02 < found < 6.5


def test_that_rms_is_over_all_channels_and_the_peak_is_that_of_any():
    samples = np.stack([sine(1000.0, 0.0, 4.0), sine(1000.0, -20.0, 4.0)])
    found = measured(samples)
    # By hand: mean squares 0.5 and 0.005.
    assert found.rms_dbfs == pytest.approx(10.0 * np.log10(0.2525), abs=1e-4)
    assert found.sample_peak_dbfs == pytest.approx(0.0, abs=1e-4)


def test_that_the_loud_crest_takes_the_loudest_tenth_of_whole_windows_of_3_s():
    samples = lively(67)  # 22 whole windows, of which two count
    windows = samples[:, : 22 * 144_000].reshape(2, 22, 144_000)
    loudest = np.sort(np.mean(windows**2, axis=(0, 2)))[-2:].mean()
    expected = 20.0 * np.log10(np.abs(samples).max()) - 10.0 * np.log10(loudest)
    assert measured(samples).loud_crest_db == pytest.approx(expected, abs=1e-4)


def test_that_below_3_s_the_loud_crest_is_that_of_the_whole():
    found = measured(pink(48000 * 2))
    assert found.loud_crest_db == pytest.approx(found.crest_db, abs=1e-9)


@pytest.mark.parametrize("bits", [16, 24])
def test_that_the_distribution_counts_samples_as_numpy_does(bits):
    scale = 2.0 ** (bits - 1)
    samples = np.round(lively(20) * scale) / scale
    found = measured(samples).distribution
    assert (found.level_re_rms_db[0], found.level_re_rms_db[-1]) == (-20.0, 24.0)
    rms = np.sqrt(np.mean(samples**2))
    exact = [np.mean(np.abs(samples) > rms * 10.0 ** (level / 20.0)) for level in found.level_re_rms_db]
    assert found.share_above == pytest.approx(exact, rel=0.005, abs=2.0 / samples.size)


def test_that_between_the_kept_levels_the_clipped_share_is_right_within_a_hundredth():
    samples = lively(60)
    found = measured(samples)
    rms = np.sqrt(np.mean(samples**2))
    levels = np.arange(0.03, 14.0, 0.37)
    exact = np.array([np.mean(np.abs(samples) > rms * 10.0 ** (level / 20.0)) for level in levels])
    enough = exact * samples.size > 300
    assert enough.sum() > 30
    assert clipped_share(found.distribution, levels)[enough] == pytest.approx(exact[enough], rel=0.01)


def test_that_nothing_is_clipped_at_the_crest_factor_and_something_just_below():
    found = measured(lively(10))
    assert clipping(found, found.crest_db).share == 0.0
    assert clipping(found, found.crest_db).starts_s == ()
    just_below = clipping(found, found.crest_db - 0.5)
    assert just_below.share > 0.0
    assert len(just_below.starts_s) >= 1


def test_that_a_lower_clip_level_never_cuts_less():
    found = measured(lively(20))
    cuts = [clipping(found, level) for level in np.arange(-21.0, 25.0, 0.23)]
    assert np.all(np.diff([cut.share for cut in cuts]) <= 1e-12)
    assert np.all(np.diff([cut.moments_per_minute for cut in cuts]) <= 1e-9)
    assert np.all(np.diff([len(cut.starts_s) for cut in cuts]) <= 0)


def test_that_clipped_moments_are_tenths_of_a_second_and_stand_where_the_peaks_are():
    samples = 0.01 * np.sin(np.arange(48000 * 60) * 0.3)
    for at_s in (7.25, 7.27, 31.96, 55.0):
        samples[round(at_s * 48000)] = 0.9
    found = measured(samples)
    cut = clipping(found, 30.0 if found.crest_db > 31.0 else found.crest_db - 3.0)
    # By hand: the first two lie in one tenth of a second; so three of the 600 of this minute.
    assert cut.moments_per_minute == pytest.approx(3.0)
    assert cut.starts_s == (7.2, 31.9, 55.0)
    assert cut.window_s == 0.1


def test_that_a_level_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="clip_level_db must be finite"):
        clipping(measured(pink(48000)), float("nan"))


@pytest.mark.parametrize(("minutes", "window_s"), [(1, 0.1), (11, 0.2), (40, 0.5), (70, 1.0)])
def test_that_the_timeline_stays_short_and_keeps_the_peaks(minutes, window_s):
    rate_hz = 4000
    samples = 0.1 * np.sin(np.arange(minutes * 60 * rate_hz) * 0.4)
    samples[rate_hz * 33] = 0.8
    timeline = measured(samples, rate_hz, sizes=(10**6,)).timeline
    assert timeline.window_s == window_s
    assert len(timeline.peak_dbfs) == round(minutes * 60 / window_s) <= 6000
    assert timeline.peak_dbfs[round(33 / window_s)] == pytest.approx(-1.94, abs=0.005)


@pytest.mark.parametrize("sizes", [(333,), (48000, 1, 5), (100_000,)])
@pytest.mark.parametrize("rate_hz", [11025, 44100, 48000])
def test_that_the_size_of_the_blocks_changes_nothing(rate_hz, sizes):
    samples = lively(4)
    whole, pieces = measured(samples, rate_hz), measured(samples, rate_hz, sizes=sizes)
    assert pieces.rms_dbfs == pytest.approx(whole.rms_dbfs, abs=1e-9)
    assert pieces.integrated_lufs == pytest.approx(whole.integrated_lufs, abs=1e-9)
    assert pieces.loud_crest_db == pytest.approx(whole.loud_crest_db, abs=1e-9)
    assert pieces.true_peak_dbtp == pytest.approx(whole.true_peak_dbtp, abs=1e-5)
    assert pieces.timeline == whole.timeline
    assert pieces.distribution == whole.distribution
    assert pieces.clipped_tenths == whole.clipped_tenths


def test_that_recordings_one_after_another_are_what_one_long_recording_is():
    first, second = lively(6, seed=5), 0.3 * lively(9, seed=9)
    long = measured(np.concatenate([first, second], axis=1))
    together = statistics_of(joined([counted(first), counted(second)]), "set", "")
    assert together.duration_s == long.duration_s
    assert (together.sample_rate_hz, together.channels) == (48000, 2)
    for name in ("rms_dbfs", "sample_peak_dbfs", "crest_db", "loud_crest_db"):
        assert getattr(together, name) == pytest.approx(getattr(long, name), abs=1e-6)
    # Where one ends and the next begins the filters start anew.
    assert together.integrated_lufs == pytest.approx(long.integrated_lufs, abs=0.01)
    assert together.loudness_range_lu == pytest.approx(long.loudness_range_lu, abs=0.05)
    assert together.bands.level_dbfs == pytest.approx(long.bands.level_dbfs, abs=0.05)
    assert together.bands.coherence == pytest.approx(long.bands.coherence, abs=0.02)
    assert together.distribution.share_above == pytest.approx(long.distribution.share_above, abs=1e-9)
    assert together.clipped_tenths == long.clipped_tenths


def test_that_a_set_of_unlike_files_weighs_them_by_time_and_has_no_rate_of_its_own():
    mono = sine(1000.0, -6.0206, 3.0, 8000)
    wide = np.stack([sine(1000.0, 0.0, 1.0, 44100)] * 3)
    together = statistics_of(joined([counted(mono, 8000), counted(wide, 44100)]), "set", "")
    assert (together.sample_rate_hz, together.channels) == (None, None)
    # By hand: mean squares 0.125 for 3 s and 0.5 for 1 s.
    assert together.rms_dbfs == pytest.approx(10.0 * np.log10((3 * 0.125 + 0.5) / 4.0), abs=1e-3)


SECTIONS = (SectionBand(None, 500.0), SectionBand(500.0, 3000.0), SectionBand(3000.0, None, (12.0, 12.0)))


def test_that_a_section_gets_the_level_and_crest_of_the_filtered_whole():
    samples = lively(20)
    found = measured(samples, sections=SECTIONS).sections
    count = samples.shape[1]
    frequency_hz = np.fft.rfftfreq(2 * count, 1.0 / 48000)
    for band, section in zip(SECTIONS, found, strict=True):
        lines = np.fft.rfft(samples, 2 * count) * section_gain(frequency_hz, band)
        filtered = np.fft.irfft(lines, 2 * count)[:, :count]
        assert section.band == band
        assert section.level_dbfs == pytest.approx(10.0 * np.log10(np.mean(filtered**2)), abs=0.01)
        crest_db = 20.0 * np.log10(np.abs(filtered).max()) - 10.0 * np.log10(np.mean(filtered**2))
        assert section.crest_db == pytest.approx(crest_db, abs=0.02)


def test_that_sections_that_share_an_edge_sum_flat():
    frequency_hz = np.geomspace(10.0, 20000.0, 200)
    gains = [
        section_gain(frequency_hz, band) for band in (SectionBand(None, 800.0), SectionBand(800.0, None))
    ]
    assert sum(gains) == pytest.approx(np.ones(200))
    # By hand: -6.02 dB at the edge.
    assert section_gain(800.0, SectionBand(800.0, None)) == pytest.approx(0.5)


def test_that_a_section_without_edges_gets_the_recording_as_it_is():
    samples = lively(5)
    found = measured(samples, sections=(SectionBand(),))
    assert found.sections[0].level_dbfs == pytest.approx(found.rms_dbfs, abs=1e-6)
    assert found.sections[0].crest_db == pytest.approx(found.crest_db, abs=1e-6)


@pytest.mark.parametrize(
    ("band", "message"),
    [
        (SectionBand(0.0, None), "low_hz must be above 0"),
        (SectionBand(None, -5.0), "high_hz must be above 0"),
        (SectionBand(100.0, None, (0.0, 24.0)), "slopes_db_per_octave must be above 0"),
    ],
)
def test_that_an_impossible_section_is_refused(band, message):
    with pytest.raises(ValueError, match=message):
        section_gain(100.0, band)


def test_that_statistics_go_to_json_and_come_back_the_same():
    found = measured(lively(4), sections=SECTIONS)
    text = json.dumps(asdict(found), allow_nan=False)
    assert TypeAdapter(RecordingStatistics).validate_json(text) == found


def test_that_what_a_plan_keeps_of_an_hour_is_small():
    hour = measured(stereo(0.2 * np.sin(np.arange(3600 * 4000) * 0.7)), 4000, sizes=(10**6,))
    assert len(json.dumps(asdict(hour))) < 120_000
