"""Signals that the tests of recordings are made of."""

from itertools import pairwise

import numpy as np

from planner.programme.statistics import statistics_of
from planner.programme.tally import Counter


def sine(frequency_hz, level_db, duration_s, rate_hz=48000, phase_deg=0.0):
    """A tone whose peak lies at a level re full scale (n,)."""
    time_s = np.arange(round(duration_s * rate_hz)) / rate_hz
    return 10.0 ** (level_db / 20.0) * np.sin(2.0 * np.pi * frequency_hz * time_s + np.radians(phase_deg))


def in_turn(*parts):
    """1 kHz at the levels and for the times given as pairs; None is silence (n,)."""
    pieces = [
        np.zeros(round(duration_s * 48000)) if level_db is None else sine(1000.0, level_db, duration_s)
        for level_db, duration_s in parts
    ]
    return np.concatenate(pieces)


def stereo(samples):
    """The same in both channels (2, n)."""
    return np.stack([samples, samples])


def pink(count, rate_hz=48000, seed=1):
    """Gaussian noise with 3 dB less in each octave, RMS 0.1 (n,)."""
    rng = np.random.default_rng(seed)
    lines = rng.standard_normal(count // 2 + 1) + 1j * rng.standard_normal(count // 2 + 1)
    frequency_hz = np.fft.rfftfreq(count, 1.0 / rate_hz)
    noise = np.fft.irfft(lines / np.sqrt(np.maximum(frequency_hz, 10.0)), count)
    return 0.1 * noise / np.sqrt(np.mean(noise**2))


def counted(samples, rate_hz=48000, sections=(), sizes=(65536,)):
    """The tally of samples (channels, n), or (n,) for one channel, fed in blocks of these sizes in turn."""
    block = np.atleast_2d(samples).astype(np.float32)
    counter = Counter(rate_hz, block.shape[0], sections)
    edges, turn = [0], 0
    while edges[-1] < block.shape[1]:
        edges.append(edges[-1] + sizes[turn % len(sizes)])
        turn += 1
    for start, end in pairwise(edges):
        counter.feed(np.ascontiguousarray(block[:, start:end]))
    return counter.finish()


def measured(samples, rate_hz=48000, sections=(), sizes=(65536,)):
    """The statistics of samples."""
    return statistics_of(counted(samples, rate_hz, sections, sizes), "test.wav", "", tuple(sections))
