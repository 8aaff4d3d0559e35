"""``fewwatts decay``: the document's keys, the table, faults and exit statuses."""

import json

import numpy as np
import pytest
import soundfile

from planner import __version__
from planner.report.decays import decay, read_decay


def response(noise_db, seconds=2.0, t60_s=0.8, rate_hz=48000):
    rng = np.random.default_rng(4)
    time_s = np.arange(round(seconds * rate_hz)) / rate_hz
    falling = rng.standard_normal(time_s.size) * 10.0 ** (-3.0 * time_s / t60_s)
    return 0.2 * (falling + 10.0 ** (noise_db / 20.0) * rng.standard_normal(time_s.size))


def written(file, samples, rate_hz=48000):
    soundfile.write(file, np.clip(samples, -1.0, 1.0), rate_hz, subtype="FLOAT")
    return str(file)


@pytest.fixture
def quiet(tmp_path):
    return written(tmp_path / "quiet.wav", response(-60.0))


@pytest.fixture
def noisy(tmp_path):
    return written(tmp_path / "noisy.wav", response(-40.0))


def test_that_the_document_has_the_agreed_keys_in_their_order(quiet, capsys):
    assert decay([quiet], as_json=True, output=None) == 0
    document = json.loads(capsys.readouterr().out)
    assert list(document) == ["fewwatts", "files"]
    assert document["fewwatts"] == __version__
    (entry,) = document["files"]
    assert list(entry) == ["file", "sample_rate_hz", "bands"]
    assert (entry["file"], entry["sample_rate_hz"]) == (quiet, 48000)
    assert list(entry["bands"]) == ["centre_hz", "edt_s", "t20_s", "t30_s", "c80_db", "d50", "range_db"]
    assert {len(values) for values in entry["bands"].values()} == {7}
    assert entry["bands"]["centre_hz"] == pytest.approx([1000.0 * 10 ** (0.3 * k) for k in range(-3, 4)])
    assert entry["bands"]["t30_s"][3:] == pytest.approx([0.8] * 4, rel=0.1)


def test_that_a_refused_time_is_null_and_no_fault(noisy, capsys):
    assert decay([noisy], as_json=True, output=None) == 0
    told = capsys.readouterr()
    bands = json.loads(told.out)["files"][0]["bands"]
    assert bands["t30_s"][3:] == [None] * 4
    assert None not in bands["t20_s"][3:]
    assert told.err == ""


def test_that_the_table_has_a_row_for_each_octave_and_says_why_one_is_refused(noisy, capsys):
    assert decay([noisy], as_json=False, output=None) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"{noisy}  (48 kHz)"
    assert [line.split()[:2] for line in lines[2:]] == [
        *(
            ["125", "Hz"],
            ["250", "Hz"],
            ["500", "Hz"],
            ["1", "kHz"],
            ["2", "kHz"],
            ["4", "kHz"],
            ["8", "kHz"],
        ),
    ]
    assert "the decay falls only 40 dB to the noise, 45 dB are needed: no T30" in lines[6]


def test_that_the_first_channel_counts(tmp_path):
    file = tmp_path / "two.wav"
    soundfile.write(
        file, np.stack([response(-60.0), response(-20.0)], axis=1).clip(-1, 1), 48000, subtype="FLOAT"
    )
    alone = read_decay(written(tmp_path / "one.wav", response(-60.0)))
    assert read_decay(str(file)) == alone


@pytest.mark.parametrize(
    ("samples", "message"),
    [
        (np.zeros(48000), "is silent or a constant offset; give an impulse response"),
        (np.full(48000, 0.5), "is silent or a constant offset; give an impulse response"),
        (np.ones(10), "is 0.2 ms long, too short for a decay; give the whole impulse response"),
        (np.zeros(121 * 48000), "is 121 s long, which no impulse response is; give one of at most 120 s"),
    ],
)
def test_that_what_is_no_response_is_one_line_and_exits_with_two(tmp_path, capsys, quiet, samples, message):
    bad = written(tmp_path / "bad.wav", samples)
    assert decay([bad, quiet], as_json=True, output=None) == 2
    told = capsys.readouterr()
    assert told.err == f"{bad}: {message}\n"
    assert [entry["file"] for entry in json.loads(told.out)["files"]] == [quiet]


def test_that_nothing_but_faults_prints_nothing(tmp_path, capsys):
    assert decay([str(tmp_path / "no.wav")], as_json=False, output=None) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == f"{tmp_path / 'no.wav'}: does not exist; check the name and the folder\n"


def test_that_output_goes_to_a_file_whole(quiet, tmp_path, capsys):
    assert decay([quiet], as_json=True, output=str(tmp_path / "a.json")) == 0
    assert capsys.readouterr().out == ""
    assert json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))["files"][0]["file"] == quiet


def test_that_a_machine_without_the_library_exits_with_three(quiet, monkeypatch, capsys):
    monkeypatch.setitem(__import__("sys").modules, "soundfile", None)
    assert decay([quiet], as_json=False, output=None) == 3
    assert "python -m pip install soundfile" in capsys.readouterr().err
