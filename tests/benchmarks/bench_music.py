"""How fast a recording is read: times real time, and the memory it takes.

Run by hand: ``python -m tests.benchmarks.bench_music [minutes] [FILE…]``. Without files it makes some,
stereo at 48 kHz, in WAV, FLAC and MP3. Machines are noisy, so the figure to look at is the best of three.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from planner.programme.recording import read_recording

RATE_HZ = 48000


def main(words: list[str]) -> None:
    """Print a line for each file."""
    minutes = float(words[0]) if words else 4.0
    with tempfile.TemporaryDirectory() as folder:
        for file in words[1:] or _made(Path(folder), minutes):
            best_s = min(_time(file) for _ in range(3))
            length_s = read_recording(file).duration_s
            print(f"{file}: {best_s:.2f} s for {length_s:.0f} s, {length_s / best_s:.0f} times real time")
    print(_memory())


def _made(folder: Path, minutes: float) -> list[str]:
    import soundfile

    rng = np.random.default_rng(1)
    files = [folder / f"noise.{kind}" for kind in ("wav", "flac", "mp3")]
    for file in files:
        with soundfile.SoundFile(file, "w", RATE_HZ, 2) as sound:
            for _ in range(round(minutes * 60.0)):
                sound.write(0.1 * rng.standard_normal((RATE_HZ, 2)))
    return [str(file) for file in files]


def _time(file: str) -> float:
    start = time.perf_counter()
    read_recording(file)
    return time.perf_counter() - start


def _memory() -> str:
    try:
        import resource
    except ImportError:
        return "memory: not known on this system"
    return f"memory at its most: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB"


if __name__ == "__main__":
    main(sys.argv[1:])
