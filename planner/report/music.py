"""Recordings on the command line: ``fewwatts music FILE… [--json] [-o FILE]``."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from planner import __version__
from planner.programme.playlist import is_set
from planner.programme.recording import read_recording, read_set
from planner.programme.sound_faults import RecordingError, SoundLibraryMissing
from planner.programme.sound_file import Progress
from planner.programme.statistics import RecordingStatistics
from planner.report.answers import CLEAR, UNUSABLE, deliver
from planner.report.language import tr
from planner.report.words import band_text

__all__ = ["LACKING", "library_silenced", "music", "recording_document", "recording_table"]

LACKING = 3
_SHOWN_EVERY = 10  # of the distribution's levels, kept every 0.05 dB and shown every 0.5 dB
_SHARES_AT_DB = (6.0, 10.0, 14.0, 18.0)

Named = tuple[str, RecordingStatistics]


def music(paths: Sequence[str], *, as_json: bool, output: str | None) -> int:
    """Read recordings, folders and playlists; faults go to standard error, one line each.

    Returns 0, 2 if some file could not be used or the output not be written, or 3 if this machine cannot
    read sound files at all.
    """
    files: list[Named] = []
    sets: list[Named] = []
    faults: list[RecordingError] = []
    for path in paths:
        try:
            with library_silenced() as terminal:
                _read(path, files, sets, faults, _teller(path, terminal))
        except RecordingError as error:
            faults.append(error)
        except SoundLibraryMissing as lack:
            print(lack, file=sys.stderr)
            return LACKING
    for fault in faults:
        print(fault, file=sys.stderr)
    delivered = CLEAR
    if as_json or files:
        delivered = deliver(_document(files, sets) if as_json else _tables(files, sets), output)
    return max(delivered, UNUSABLE if faults else CLEAR)


def recording_document(file: str, recording: RecordingStatistics) -> dict[str, Any]:
    """One recording's part of ``music --json``; null where there is no value."""
    bands, distribution = recording.bands, recording.distribution
    return {
        "file": file,
        "duration_s": recording.duration_s,
        "sample_rate_hz": recording.sample_rate_hz,
        "channels": recording.channels,
        "rms_dbfs": recording.rms_dbfs,
        "sample_peak_dbfs": recording.sample_peak_dbfs,
        "true_peak_dbtp": recording.true_peak_dbtp,
        "integrated_lufs": recording.integrated_lufs,
        "loudness_range_lu": recording.loudness_range_lu,
        "crest_db": recording.crest_db,
        "loud_crest_db": recording.loud_crest_db,
        "bands": {
            "centre_hz": list(bands.centre_hz),
            "level_dbfs": list(bands.level_dbfs),
            "crest_db": list(bands.crest_db),
            "coherence": list(bands.coherence),
        },
        "distribution": {
            "level_re_rms_db": list(distribution.level_re_rms_db[::_SHOWN_EVERY]),
            "share_above": list(distribution.share_above[::_SHOWN_EVERY]),
        },
    }


def recording_table(file: str, recording: RecordingStatistics) -> str:
    """One recording for a terminal: the whole in four lines, then the bands."""
    lines = [f"{file}  ({_form(recording)})", *(f"  {line}" for line in _whole(recording))]
    heads = (tr("band"), tr("level"), tr("crest"), tr("coherence"))
    lines.append("  {:>8}  {:>10}  {:>8}  {:>9}".format(*heads))
    bands = recording.bands
    rows = zip(bands.centre_hz, bands.level_dbfs, bands.crest_db, bands.coherence, strict=True)
    for centre_hz, level, crest, coherence in rows:
        cells = (_value(level, "{:.1f} dBFS"), _value(crest, "{:.1f} dB"), _value(coherence, "{:+.2f}"))
        lines.append("  {:>8}  {:>10}  {:>8}  {:>9}".format(band_text(centre_hz), *cells))
    return "\n".join(lines) + "\n"


def _read(
    path: str,
    files: list[Named],
    sets: list[Named],
    faults: list[RecordingError],
    progress: Progress | None,
) -> None:
    """Append what one word of the command line stands for."""
    if not is_set(path):
        files.append((path, read_recording(path, progress=progress)))
        return
    found = read_set(path, progress=progress)
    files.extend(zip(found.paths, found.members, strict=True))
    sets.append((path, found.whole))
    faults.extend(found.faults)


@contextmanager
def library_silenced() -> Iterator[int]:
    """Keep the decoders' own remarks from standard error, and give a descriptor that still leads there."""
    sys.stderr.flush()
    terminal = os.dup(2)
    with open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), 2)
    try:
        yield terminal
    finally:
        os.dup2(terminal, 2)
        os.close(terminal)


def _teller(path: str, terminal: int) -> Progress | None:
    """Tells a person at a terminal how far the reading has got, and takes the line away at the end."""
    if not os.isatty(terminal):
        return None

    def tell(fraction: float) -> bool:
        words = tr("Reading {file}: {percent} %", file=path, percent=f"{fraction * 100.0:3.0f}")
        os.write(terminal, (f"\r\x1b[K{words}" if fraction < 1.0 else "\r\x1b[K").encode())
        return True

    return tell


def _document(files: list[Named], sets: list[Named]) -> str:
    document: dict[str, Any] = {
        "fewwatts": __version__,
        "files": [recording_document(*named) for named in files],
    }
    if sets:
        document["sets"] = [recording_document(*named) for named in sets]
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _tables(files: list[Named], sets: list[Named]) -> str:
    together = [(tr("{file}, all together", file=file), recording) for file, recording in sets]
    return "\n".join(recording_table(*named) for named in (*files, *together))


def _form(recording: RecordingStatistics) -> str:
    minutes, seconds = divmod(recording.duration_s, 60.0)
    parts = [f"{minutes:.0f} min {seconds:.0f} s" if minutes else f"{seconds:.1f} s"]
    if recording.sample_rate_hz is not None:
        parts.append(f"{recording.sample_rate_hz / 1000.0:g} kHz")
    if recording.channels is not None:
        parts.append(
            tr("{count} channels", count=recording.channels) if recording.channels > 1 else tr("mono")
        )
    return ", ".join(parts)


def _whole(recording: RecordingStatistics) -> Iterator[str]:
    yield tr(
        "RMS {rms} dBFS, sample peak {peak} dBFS, true peak {true} dBTP",
        rms=f"{recording.rms_dbfs:.1f}",
        peak=f"{recording.sample_peak_dbfs:+.1f}",
        true=f"{recording.true_peak_dbtp:+.1f}",
    )
    yield tr(
        "loudness {loudness}, range {range}",
        loudness=_value(recording.integrated_lufs, "{:.1f} LUFS"),
        range=_value(recording.loudness_range_lu, "{:.1f} LU"),
    )
    yield tr(
        "crest factor {whole} dB, of the loudest tenth of its 3-second passages {loud} dB",
        whole=f"{recording.crest_db:.1f}",
        loud=f"{recording.loud_crest_db:.1f}",
    )
    table = recording.distribution
    share_above: Callable[[float], float] = dict(
        zip(table.level_re_rms_db, table.share_above, strict=True)
    ).__getitem__
    shares = (f"+{level:.0f} dB {share_above(level) * 100.0:.2g} %" for level in _SHARES_AT_DB)
    yield tr("share of samples above RMS by {shares}", shares=", ".join(shares))


def _value(value: float | None, form: str) -> str:
    return tr("none") if value is None else form.format(value)
