"""Sound files read from disk: formats, broken ones, progress, memory."""

import hashlib
import subprocess
import sys
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
import soundfile

from planner.programme import sound_file
from planner.programme.recording import read_recording
from planner.programme.sound_faults import ReadingCancelled, RecordingError, SoundLibraryMissing
from tests.programme.signals import measured, pink

CHECKOUT = Path(__file__).parents[2]


def music(seconds=4.0, rate_hz=48000, channels=2):
    count = round(seconds * rate_hz)
    return np.stack([pink(count, rate_hz, seed) for seed in range(channels)])


def written(file, samples, rate_hz=48000, **how):
    soundfile.write(file, samples.T, rate_hz, **how)
    return file


@pytest.mark.parametrize(
    ("name", "how", "tolerance_db"),
    [
        ("a.wav", {"subtype": "PCM_16"}, 0.001),
        ("a.wav", {"subtype": "PCM_24"}, 0.001),
        ("a.wav", {"subtype": "FLOAT"}, 0.001),
        ("a.wav", {"subtype": "DOUBLE"}, 0.001),
        ("a.flac", {}, 0.001),
        ("a.aiff", {}, 0.001),
        ("a.w64", {}, 0.001),
        ("a.ogg", {}, 0.6),
        ("a.mp3", {}, 0.6),
    ],
)
def test_that_every_format_gives_the_statistics_of_what_was_written(tmp_path, name, how, tolerance_db):
    samples = music()
    found = read_recording(written(tmp_path / name, samples, **how))
    expected = measured(samples)
    assert (found.sample_rate_hz, found.channels) == (48000, 2)
    assert found.duration_s == pytest.approx(4.0, abs=0.1)
    assert found.rms_dbfs == pytest.approx(expected.rms_dbfs, abs=tolerance_db)
    assert found.integrated_lufs == pytest.approx(expected.integrated_lufs, abs=max(tolerance_db, 0.002))


@pytest.mark.parametrize(
    ("rate_hz", "channels"), [(4000, 1), (22050, 5), (192000, 2), (768000, 1), (48000, 24)]
)
def test_that_any_rate_and_number_of_channels_is_read(tmp_path, rate_hz, channels):
    samples = music(1.0, rate_hz, channels)
    found = read_recording(written(tmp_path / "a.wav", samples, rate_hz, subtype="FLOAT"))
    assert (found.sample_rate_hz, found.channels) == (rate_hz, channels)
    assert found.duration_s == 1.0
    assert found.rms_dbfs == pytest.approx(10.0 * np.log10(np.mean(samples**2)), abs=1e-4)


def test_that_a_recording_keeps_its_name_and_the_digest_of_its_file(tmp_path):
    file = written(tmp_path / "Für zwei.wav", music(1.0))
    found = read_recording(file)
    assert found.file == "Für zwei.wav"
    assert found.digest == hashlib.sha256(file.read_bytes()).hexdigest()


def cut(file, share):
    content = file.read_bytes()
    file.write_bytes(content[: int(len(content) * share)])
    return file


@pytest.mark.parametrize("share", [0.5, 0.9])
@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.aiff", "a.w64", "a.mp3", "a.ogg"])
def test_that_a_file_cut_short_says_so_in_one_line(tmp_path, name, share):
    file = cut(written(tmp_path / name, music()), share)
    with pytest.raises(RecordingError) as fault:
        read_recording(file)
    assert str(fault.value).startswith(f"{file}: is ")
    assert "cut short" in str(fault.value)
    assert "; copy or download it again" in str(fault.value)
    assert "\n" not in str(fault.value)


def test_that_a_head_of_a_stream_of_unknown_length_is_no_fault(tmp_path):
    file = written(tmp_path / "a.wav", music(1.0))
    content = bytearray(file.read_bytes())
    for mark in (b"RIFF", b"data"):
        place = content.find(mark) + 4
        content[place : place + 4] = b"\xff\xff\xff\xff"
    file.write_bytes(content)
    assert read_recording(file).duration_s == 1.0


def test_that_a_file_of_unknown_length_that_the_library_cannot_end_is_refused(tmp_path):
    file = written(tmp_path / "a.flac", music(1.0))
    content = bytearray(file.read_bytes())
    content[21] &= 0xF0  # the count of samples in the head of a FLAC file: 36 bits from here
    content[22:26] = bytes(4)
    file.write_bytes(content)
    with pytest.raises(RecordingError, match="does not say how long it is; save it again"):
        read_recording(file)


def with_sample(value):
    samples = music(1.0)
    samples[1, 24000] = value
    return samples


def fill(tmp_path, kind):
    file = tmp_path / "bad.wav"
    if kind == "text":
        file.write_text("This is no sound, whatever its name says.\n" * 20)
    elif kind == "empty":
        file.touch()
    elif kind != "missing":
        samples = {
            "no samples": np.zeros((2, 0)),
            "one sample": np.full((2, 1), 0.5),
            "silent": np.zeros((2, 48000)),
            "offset": np.full((2, 48000), 0.25),
            "nan": with_sample(np.nan),
            "infinite": with_sample(-np.inf),
            "unscaled": with_sample(20000.0),
            "low rate": music(1.0),
        }[kind]
        written(file, samples, 3000 if kind == "low rate" else 48000, subtype="FLOAT")
    return file


@pytest.mark.parametrize(
    ("kind", "message"),
    [
        ("text", "holds no sound that can be read; save it again as WAV or FLAC"),
        ("empty", "is empty; copy or download it again"),
        ("missing", "does not exist; check the name and the folder"),
        ("no samples", "holds no sound (its length is 0); copy or download it again"),
        ("one sample", "holds 1 sample, which is no music; give a longer recording"),
        ("silent", "is silent; check how it was recorded"),
        ("offset", "holds nothing but a constant offset (DC); check how it was recorded"),
        ("nan", "holds samples that are no numbers at 0.500 s; save it again"),
        ("infinite", "holds samples that are no numbers at 0.500 s; save it again"),
        (
            "unscaled",
            "holds samples of 20000 times full scale at 0.500 s; save it again with samples from -1 to 1",
        ),
        ("low rate", "has a sample rate of 3000 Hz, too low for music; give a recording of 4000 Hz or more"),
    ],
)
def test_that_a_broken_file_is_refused_with_what_to_do(tmp_path, kind, message):
    file = fill(tmp_path, kind)
    with pytest.raises(RecordingError) as fault:
        read_recording(file)
    assert str(fault.value).startswith(f"{file}: {message}")
    assert isinstance(fault.value, ValueError)


def test_that_a_folder_is_no_recording(tmp_path):
    with pytest.raises(RecordingError, match="is a folder; name the sound files in it"):
        read_recording(tmp_path)


def test_that_the_missing_library_is_named_with_what_to_install(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "soundfile", None)
    with pytest.raises(SoundLibraryMissing, match="install the Python package soundfile"):
        read_recording(fill(tmp_path, "text"))


def test_that_progress_rises_to_one_and_false_stops_the_reading(tmp_path):
    file = written(tmp_path / "a.wav", music(10.0))
    told = []
    read_recording(file, progress=lambda fraction: told.append(fraction) or True)
    assert told == sorted(told)
    assert len(told) > 3
    assert told[-1] == 1.0
    asked = []
    with pytest.raises(ReadingCancelled):
        read_recording(file, progress=lambda fraction: bool(asked.append(fraction)))
    assert len(asked) == 1


def test_that_memory_does_not_grow_with_the_length_of_a_recording(tmp_path):
    def peak_mb(seconds):
        file = written(tmp_path / f"{seconds}.wav", music(seconds, 8000), 8000)
        tracemalloc.start()
        read_recording(file)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return peak / 1e6

    short, long = peak_mb(90), peak_mb(270)
    assert long < 120.0
    # Three values for each 20 ms while it is read: 0.2 MB in 180 s.
    assert long - short < 2.0


def test_that_blocks_are_full_but_for_the_last_one(tmp_path):
    file = written(tmp_path / "a.mp3", music(1.0))
    sizes = [block.shape[1] for block in sound_file.blocks(file, 7000)]
    assert set(sizes[:-1]) == {7000}
    assert all(block.flags.c_contiguous for block in sound_file.blocks(file, 7000))


def test_that_the_library_is_loaded_only_when_a_file_is_opened():
    code = "import sys, planner.programme.recording; print('soundfile' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, capture_output=True, text=True)
    assert done.stdout.strip() == "False", done.stderr
