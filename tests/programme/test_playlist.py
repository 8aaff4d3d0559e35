"""Folders and playlists as sets of recordings."""

import pytest
import soundfile

from planner.programme.playlist import is_set, members_of
from planner.programme.recording import read_set
from planner.programme.sound_faults import ReadingCancelled, RecordingError
from tests.programme.signals import sine


def names(folder, path):
    return [file.relative_to(folder).as_posix() for file in members_of(path)]


@pytest.fixture
def shelf(tmp_path):
    for name in (
        "B side.wav",
        "a side.FLAC",
        "notes.txt",
        "cover.jpg",
        ".hidden.wav",
        "disc 2/one.mp3",
        ".trash/x.wav",
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()
    return tmp_path


def test_that_a_folder_gives_its_sound_files_and_those_of_folders_in_it_by_name(shelf):
    assert names(shelf, shelf) == ["a side.FLAC", "B side.wav", "disc 2/one.mp3"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1"])
def test_that_a_playlist_gives_what_its_lines_name_in_their_order(shelf, encoding):
    lines = "#EXTM3U\n#EXTINF:12,Für Zwei\ndisc 2\\one.mp3\n\n  B side.wav  \nFür Zwei.ogg\n"
    playlist = shelf / "evening.m3u"
    playlist.write_bytes(lines.encode(encoding))
    assert names(shelf, playlist) == ["disc 2/one.mp3", "B side.wav", "Für Zwei.ogg"]


def test_that_absolute_names_in_a_playlist_stay_what_they_are(shelf, tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "far.wav"
    (shelf / "list.m3u8").write_text(f"{elsewhere}\n", encoding="utf-8")
    assert members_of(shelf / "list.m3u8") == [elsewhere]


def test_that_only_folders_and_playlists_are_sets(shelf):
    assert is_set(shelf)
    assert is_set(shelf / "any.M3U")
    assert not is_set(shelf / "B side.wav")


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda folder: folder, "holds no sound files; sound files end in .wav"),
        (lambda folder: folder / "empty.m3u", "names no sound files"),
        (lambda folder: folder / "missing.m3u", "cannot be read"),
    ],
)
def test_that_a_set_without_anything_is_refused(tmp_path, make, message):
    (tmp_path / "empty.m3u").write_text("# nothing\n")
    with pytest.raises(RecordingError, match=message):
        members_of(make(tmp_path))


def write(file, level_db, rate_hz=8000):
    soundfile.write(file, sine(500.0, level_db, 1.0, rate_hz), rate_hz, subtype="FLOAT")


def test_that_a_file_that_cannot_be_read_costs_nothing_but_itself(tmp_path):
    write(tmp_path / "1.wav", -3.0)
    (tmp_path / "2.wav").write_text("no sound")
    write(tmp_path / "3.wav", -3.0)
    found = read_set(tmp_path)
    assert [member.file for member in found.members] == ["1.wav", "3.wav"]
    assert found.paths == (str(tmp_path / "1.wav"), str(tmp_path / "3.wav"))
    assert [fault.file for fault in found.faults] == [str(tmp_path / "2.wav")]
    assert found.whole.duration_s == 2.0
    assert found.whole.file == tmp_path.name


def test_that_a_set_of_more_files_than_are_held_together_counts_each_once(tmp_path):
    for index in range(19):
        write(tmp_path / f"{index:02}.wav", 0.0 if index == 18 else -20.0)
    whole = read_set(tmp_path).whole
    assert whole.duration_s == pytest.approx(19.0)
    # By hand: mean squares 18 x 0.005 and 1 x 0.5 over 19.
    assert 10.0 ** (whole.rms_dbfs / 10.0) == pytest.approx((18 * 0.005 + 0.5) / 19.0, rel=1e-4)


def test_that_a_set_of_nothing_but_broken_files_names_the_first_fault(tmp_path):
    (tmp_path / "1.wav").write_text("no sound")
    with pytest.raises(
        RecordingError, match=r"holds 1 files, none of which can be used \(.*1.wav: holds no sound"
    ):
        read_set(tmp_path)


def test_that_progress_runs_over_the_whole_set_and_stops_it(tmp_path):
    for index in range(3):
        write(tmp_path / f"{index}.wav", -3.0)
    told = []
    read_set(tmp_path, progress=lambda fraction: told.append(fraction) or True)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert len(told) >= 3
    with pytest.raises(ReadingCancelled):
        read_set(tmp_path, progress=lambda fraction: fraction < 0.5)


def test_that_the_digest_of_a_set_changes_with_its_members(tmp_path):
    write(tmp_path / "1.wav", -3.0)
    before = read_set(tmp_path).whole.digest
    write(tmp_path / "2.wav", -3.0)
    after = read_set(tmp_path).whole.digest
    assert before != after
    assert len(after) == 64
