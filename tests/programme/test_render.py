"""What an amplifier that clips makes of a passage, against the mathematics of a clipped sine."""

import wave

import numpy as np
import pytest

from planner.programme.render import clipped_wave, limited, passage, rendered, write_wave
from planner.programme.sound_faults import ReadingCancelled, RecordingError
from planner.programme.sound_file import blocks
from tests.programme.signals import pink, sine

RATE = 48000


def lines(samples, count=RATE):
    """Amplitude of each whole hertz in a steady second."""
    steady = samples[0, RATE // 2 : RATE // 2 + count]
    return 2.0 * np.abs(np.fft.rfft(steady)) / count


def harmonic(order, limit):
    """Fourier coefficient of a unit sine clipped at *limit*, by its integral (definition)."""
    phase = (np.arange(200_000) + 0.5) / 200_000 * 2.0 * np.pi
    return abs(2.0 * np.mean(np.clip(np.sin(phase), -limit, limit) * np.sin(order * phase)))


def test_that_a_hard_clipped_sine_has_the_harmonics_of_its_fourier_series():
    # Source: Fourier series of the clipped sine, by numerical integration.
    found = lines(clipped_wave(sine(1000.0, 0.0, 2.0)[np.newaxis], 0.5, "hard"))
    for order in (1, 3, 5, 7, 9, 11):
        assert found[1000 * order] == pytest.approx(harmonic(order, 0.5), abs=3e-4)
    distortion = np.sqrt(np.sum(found[[3000, 5000, 7000, 9000, 11000]] ** 2)) / found[1000]
    expected = np.sqrt(sum(harmonic(n, 0.5) ** 2 for n in (3, 5, 7, 9, 11))) / harmonic(1, 0.5)
    assert distortion == pytest.approx(expected, rel=0.005)


def test_that_little_folds_back_below_the_harmonics():
    # 4.7 kHz: without oversampling the 7th harmonic (32.9 kHz) would fold to 15.1 kHz.
    tone = sine(4700.0, 0.0, 2.0)[np.newaxis]
    over, plain = lines(clipped_wave(tone, 0.5, "hard")), lines(np.clip(tone, -0.5, 0.5))
    assert over[48000 - 7 * 4700] < 0.05 * plain[48000 - 7 * 4700]


def test_that_the_soft_law_is_straight_to_half_its_limit_smooth_there_and_never_beyond_it():
    x = np.linspace(-4.0, 4.0, 80001)
    y = limited(x, 2.0, "soft")
    assert np.array_equal(y[np.abs(x) <= 1.0], x[np.abs(x) <= 1.0])
    assert np.all(np.diff(y) >= 0.0) and np.abs(y).max() <= 2.0
    assert np.abs(np.diff(y, 2)).max() < 1e-6
    assert limited(2.0, 2.0, "soft") == pytest.approx(1.0 + np.tanh(1.0))


def test_that_soft_clipping_has_fewer_high_harmonics_than_hard():
    tone = sine(1000.0, 0.0, 2.0)[np.newaxis]
    hard, soft = (lines(clipped_wave(tone, 0.6, law)) for law in ("hard", "soft"))
    assert np.sum(soft[11000:24000:2000] ** 2) < 0.1 * np.sum(hard[11000:24000:2000] ** 2)


@pytest.mark.parametrize("law", ["soft", "hard"])
def test_that_both_passages_have_one_rms_and_keep_below_full_scale(law):
    music = 3.0 * np.stack([pink(RATE, seed=1), pink(RATE, seed=2)])
    pair = rendered(music, RATE, 0.2, law)
    assert np.mean(pair.clipped**2) == pytest.approx(np.mean(pair.clean**2), rel=1e-9)
    assert max(np.abs(pair.clipped).max(), np.abs(pair.clean).max()) == pytest.approx(10 ** (-1 / 20))
    assert pair.share_over == pytest.approx(np.mean(np.abs(music) > 0.2), abs=0.02)


def test_that_the_clean_passage_is_the_recording_but_for_one_gain():
    music = pink(RATE)[np.newaxis]
    middle = slice(RATE // 4, RATE // 2)
    ratio = rendered(music, RATE, 0.15, "hard").clean[0, middle] / music[0, middle]
    assert ratio == pytest.approx(np.full(ratio.size, ratio[0]), rel=1e-9)


def test_that_silence_and_unknown_laws_are_refused():
    with pytest.raises(ValueError, match="silent"):
        rendered(np.zeros((1, 100)), RATE, 0.5, "hard")
    with pytest.raises(ValueError, match="law"):
        limited([0.0], 1.0, "odd")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="limit"):
        limited([0.0], 0.0, "hard")


def test_that_a_wave_file_holds_what_was_written_to_24_bits(tmp_path):
    samples = np.stack([sine(1000.0, -3.0, 0.5), pink(RATE // 2)])
    write_wave(tmp_path / "two.wav", samples, RATE)
    with wave.open(str(tmp_path / "two.wav")) as sound:
        assert (sound.getnchannels(), sound.getsampwidth(), sound.getframerate()) == (2, 3, RATE)
    read = np.concatenate(list(blocks(tmp_path / "two.wav", 4096)), axis=1)
    assert np.abs(read - samples).max() < 2.0**-22
    assert [one.name for one in tmp_path.iterdir()] == ["two.wav"]


def test_that_a_passage_is_cut_where_it_was_asked_for(tmp_path):
    samples = np.linspace(-0.9, 0.9, 5 * RATE)[np.newaxis]
    write_wave(tmp_path / "ramp.wav", samples, RATE)
    rate, found = passage(tmp_path / "ramp.wav", 2.0, 1.5)
    assert rate == RATE and found.shape == (1, 3 * RATE // 2)
    assert np.abs(found - samples[:, 2 * RATE : 2 * RATE + found.shape[1]]).max() < 1e-6
    assert passage(tmp_path / "ramp.wav", 4.0, 30.0)[1].shape == (1, RATE)
    with pytest.raises(RecordingError, match="ends before 9 s"):
        passage(tmp_path / "ramp.wav", 9.0)
    with pytest.raises(ReadingCancelled):
        passage(tmp_path / "ramp.wav", 1.0, progress=lambda share: False)
