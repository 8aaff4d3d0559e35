"""Impulse responses on the command line: ``fewwatts decay FILE… [--json] [-o FILE]``."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from typing import Any

import numpy as np

from planner import __version__
from planner.measurements.decay import Decay, DecayBand, decay_of
from planner.measurements.errors import MeasurementError
from planner.programme.sound_faults import RecordingError, SoundLibraryMissing
from planner.programme.sound_file import blocks, sound_format
from planner.report.answers import CLEAR, UNUSABLE, deliver
from planner.report.language import tr
from planner.report.music import LACKING, library_silenced
from planner.report.words import band_text

__all__ = ["decay", "decay_document", "decay_table", "read_decay"]

_LONGEST_S = 120.0
_KEYS = ("centre_hz", "edt_s", "t20_s", "t30_s", "c80_db", "d50", "range_db")


def decay(paths: Sequence[str], *, as_json: bool, output: str | None) -> int:
    """Evaluate impulse responses; faults go to standard error, one line each.

    Returns 0, 2 if some file could not be used or the output not be written, or 3 if this machine cannot
    read sound files at all. An octave whose range is too small is no fault: its times are left out.
    """
    found: list[tuple[str, Decay]] = []
    status = CLEAR
    for path in paths:
        try:
            with library_silenced():
                found.append((path, read_decay(path)))
        except RecordingError as fault:
            print(fault, file=sys.stderr)
            status = UNUSABLE
        except SoundLibraryMissing as lack:
            print(lack, file=sys.stderr)
            return LACKING
    if not as_json and not found:
        return status
    text = _document(found) if as_json else "\n".join(decay_table(*named) for named in found)
    return max(deliver(text, output), status)


def read_decay(path: str) -> Decay:
    """The decay of the impulse response in a sound file, of its first channel.

    Raises
    ------
    RecordingError
        If the file cannot be used; the message names it.
    SoundLibraryMissing
        If the library that reads sound files is not installed.
    """
    form = sound_format(path)
    if form.frames > _LONGEST_S * form.sample_rate_hz:
        fault = f"is {form.frames / form.sample_rate_hz:.0f} s long, which no impulse response is"
        raise RecordingError(path, fault, f"give one of at most {_LONGEST_S:.0f} s")
    response = np.concatenate([block[0] for block in blocks(path, 2**16)])
    try:
        return decay_of(response, form.sample_rate_hz)
    except MeasurementError as error:
        fault, _, remedy = str(error).partition("; ")
        raise RecordingError(path, fault, remedy) from error


def decay_document(file: str, found: Decay) -> dict[str, Any]:
    """One response's part of ``decay --json``; null where the range is too small."""
    return {
        "file": file,
        "sample_rate_hz": round(found.sample_rate_hz),
        "bands": {key: [getattr(band, key) for band in found.bands] for key in _KEYS},
    }


def decay_table(file: str, found: Decay) -> str:
    """One response for a terminal: a row for each octave, with what it refuses and why."""
    heads = (tr("band"), "EDT", "T20", "T30", "C80", "D50", tr("range"))
    lines = [f"{file}  ({found.sample_rate_hz / 1000.0:g} kHz)", _row(heads)]
    return "\n".join([*lines, *map(_band_row, found.bands)]) + "\n"


def _band_row(band: DecayBand) -> str:
    cells = (
        band_text(band.centre_hz),
        *(_value(time_s, "{:.2f} s") for time_s in (band.edt_s, band.t20_s, band.t30_s)),
        _value(band.c80_db, "{:+.1f} dB"),
        _value(band.d50, "{:.2f}"),
        _value(band.range_db, "{:.0f} dB"),
    )
    return f"{_row(cells)}  {band.refusal}".rstrip()


def _row(cells: Sequence[str]) -> str:
    return "  " + "  ".join(cell.rjust(8) for cell in cells)


def _value(value: float | None, form: str) -> str:
    return "-" if value is None else form.format(value)


def _document(found: list[tuple[str, Decay]]) -> str:
    document = {"fewwatts": __version__, "files": [decay_document(*named) for named in found]}
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
