"""``fewwatts music``: the document's keys, the table, faults and exit statuses."""

import json

import numpy as np
import pytest
import soundfile

from planner import __version__
from planner.report import music as module
from planner.report.music import music
from tests.programme.signals import sine, stereo

KEYS = [
    *("file", "duration_s", "sample_rate_hz", "channels", "rms_dbfs", "sample_peak_dbfs", "true_peak_dbtp"),
    *("integrated_lufs", "loudness_range_lu", "crest_db", "loud_crest_db", "bands", "distribution"),
]


@pytest.fixture
def tone(tmp_path):
    """A file of 4 s: 1 kHz, -6.02 dBFS at its peak, in both channels."""
    file = tmp_path / "tone.wav"
    soundfile.write(file, stereo(sine(1000.0, -6.0206, 4.0)).T, 48000, subtype="FLOAT")
    return str(file)


@pytest.fixture
def broken(tmp_path):
    file = tmp_path / "broken.wav"
    file.write_text("no sound")
    return str(file)


def test_that_the_document_has_the_agreed_keys_in_their_order(tone, capsys):
    assert music([tone], as_json=True, output=None) == 0
    document = json.loads(capsys.readouterr().out)
    assert list(document) == ["fewwatts", "files"]
    assert document["fewwatts"] == __version__
    (entry,) = document["files"]
    assert list(entry) == KEYS
    assert list(entry["bands"]) == ["centre_hz", "level_dbfs", "crest_db", "coherence"]
    assert {len(values) for values in entry["bands"].values()} == {31}
    assert list(entry["distribution"]) == ["level_re_rms_db", "share_above"]


def test_that_the_document_says_what_a_hand_calculation_says(tone, capsys):
    music([tone], as_json=True, output=None)
    (entry,) = json.loads(capsys.readouterr().out)["files"]
    assert (entry["file"], entry["duration_s"], entry["sample_rate_hz"], entry["channels"]) == (
        tone,
        4.0,
        48000,
        2,
    )
    # By hand: amplitude 1/2, mean square 1/8; two channels of -9.03 dBFS each at 1 kHz are -6.02 LUFS.
    assert entry["rms_dbfs"] == pytest.approx(-9.031, abs=1e-3)
    assert entry["sample_peak_dbfs"] == pytest.approx(-6.021, abs=1e-3)
    assert entry["crest_db"] == pytest.approx(3.010, abs=1e-3)
    assert entry["integrated_lufs"] == pytest.approx(-6.02, abs=0.05)
    assert entry["loudness_range_lu"] == pytest.approx(0.0, abs=0.1)
    assert entry["bands"]["coherence"][17] == pytest.approx(1.0)


def test_that_the_distribution_runs_from_minus_20_to_24_db_in_half_steps(tone, capsys):
    music([tone], as_json=True, output=None)
    (entry,) = json.loads(capsys.readouterr().out)["files"]
    levels, shares = entry["distribution"]["level_re_rms_db"], entry["distribution"]["share_above"]
    assert levels == [-20.0 + 0.5 * step for step in range(89)]
    # By hand: a sine lies above a level x of its peak for 1 - 2 asin(x)/pi of the time.
    inside = [step for step, level in enumerate(levels) if level <= 3.0]
    peak_share = 10.0 ** (np.array(levels)[inside] / 20.0) / np.sqrt(2.0)
    # A tone of 48 samples a period takes 13 magnitudes only.
    assert np.array(shares)[inside] == pytest.approx(1.0 - 2.0 * np.arcsin(peak_share) / np.pi, abs=1 / 12)
    assert shares[-1] == 0.0


def test_that_what_has_no_value_is_null(tmp_path, capsys):
    file = tmp_path / "short.wav"
    soundfile.write(file, sine(1000.0, -6.0, 0.2, 8000), 8000)
    assert music([str(file)], as_json=True, output=None) == 0
    (entry,) = json.loads(capsys.readouterr().out)["files"]
    assert entry["integrated_lufs"] is None
    assert entry["loudness_range_lu"] is None
    assert entry["bands"]["level_dbfs"][30] is None


def test_that_a_fault_is_one_line_and_the_other_files_are_still_told(tone, broken, capsys):
    assert music([broken, tone], as_json=True, output=None) == 2
    told = capsys.readouterr()
    assert [entry["file"] for entry in json.loads(told.out)["files"]] == [tone]
    assert told.err.count("\n") == 1
    assert told.err.startswith(f"{broken}: holds no sound that can be read; save it again")


def test_that_nothing_but_faults_prints_no_table_and_an_empty_document(broken, capsys):
    assert music([broken], as_json=False, output=None) == 2
    assert capsys.readouterr().out == ""
    assert music([broken], as_json=True, output=None) == 2
    assert json.loads(capsys.readouterr().out)["files"] == []


def test_that_a_folder_gives_its_files_and_then_all_of_them_together(tone, broken, tmp_path, capsys):
    assert music([str(tmp_path)], as_json=True, output=None) == 2
    told = capsys.readouterr()
    document = json.loads(told.out)
    assert [entry["file"] for entry in document["files"]] == [tone]
    assert [entry["file"] for entry in document["sets"]] == [str(tmp_path)]
    assert list(document["sets"][0]) == KEYS
    assert told.err.startswith(f"{broken}: ")


def test_that_the_table_tells_the_whole_and_every_band(tone, tmp_path, capsys):
    assert music([tone, str(tmp_path)], as_json=False, output=None) == 0
    shown = capsys.readouterr().out
    assert shown.startswith(f"{tone}  (4.0 s, 48 kHz, 2 channels)\n")
    assert "RMS -9.0 dBFS, sample peak -6.0 dBFS" in shown
    assert "crest factor 3.0 dB, of the loudest tenth of its 3-second passages 3.0 dB" in shown
    assert f"{tmp_path}, all together" in shown
    first = shown.split("\n\n")[0].splitlines()
    assert len(first) == 6 + 31
    assert [line.split()[:2] for line in first[6:8]] == [["20", "Hz"], ["25", "Hz"]]
    assert max(map(len, first[1:])) <= 100


def test_that_output_goes_to_a_file_whole(tone, tmp_path, capsys):
    there = tmp_path / "answer.json"
    there.write_text("old")
    assert music([tone], as_json=True, output=str(there)) == 0
    assert capsys.readouterr().out == ""
    assert json.loads(there.read_text(encoding="utf-8"))["files"][0]["file"] == tone


def test_that_an_output_that_cannot_be_written_exits_with_two(tone, tmp_path, capsys):
    assert music([tone], as_json=True, output=str(tmp_path / "no" / "a.json")) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_that_a_machine_without_the_library_exits_with_three(tone, monkeypatch, capsys):
    monkeypatch.setitem(__import__("sys").modules, "soundfile", None)
    assert music([tone], as_json=False, output=None) == 3
    assert "python -m pip install soundfile" in capsys.readouterr().err


def test_that_a_person_at_a_terminal_sees_how_far_it_is_and_the_line_is_taken_away(tone, monkeypatch):
    written = []
    monkeypatch.setattr(module.os, "isatty", lambda descriptor: True)
    monkeypatch.setattr(module.os, "write", lambda descriptor, text: written.append(text.decode()))
    music([tone], as_json=True, output=None)
    assert f"Reading {tone}: " in written[0]
    assert written[-1] == "\r\x1b[K"


def test_that_the_decoders_own_remarks_do_not_reach_standard_error(tmp_path, capfd):
    file = tmp_path / "cut.mp3"
    soundfile.write(file, stereo(sine(440.0, -6.0, 4.0)).T, 48000)
    file.write_bytes(file.read_bytes()[:5000])
    assert music([str(file)], as_json=False, output=None) == 2
    assert capfd.readouterr().err.count("\n") == 1
