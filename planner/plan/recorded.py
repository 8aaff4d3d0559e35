"""A plan with a recording for its programme: from what was read to what is kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from planner.plan.edit import put, rebuilt
from planner.plan.loudspeaker import Section
from planner.plan.model import Plan, Programme
from planner.plan.recording import Distribution, RecordedSection, Recording, Timeline
from planner.programme.sections import SectionBand

if TYPE_CHECKING:
    from planner.programme.statistics import BandStatistics, RecordingStatistics, SectionStatistics

__all__ = ["inner_band", "recorded", "section_bands", "with_recording"]

_NO_SLOPE = 24.0  # what stands for the slope of an edge that is not there


def inner_band(sections: tuple[Section, ...], index: int) -> SectionBand:
    """The electrical edges of one section: those that it shares with a neighbour."""
    section = sections[index]
    low, high = index > 0, index < len(sections) - 1
    slopes = section.slopes_db_per_octave
    return SectionBand(
        section.low_hz if low else None,
        section.high_hz if high else None,
        (slopes[0] if low else _NO_SLOPE, slopes[1] if high else _NO_SLOPE),
    )


def section_bands(plan: Plan) -> tuple[SectionBand, ...]:
    """The bands of all sections of all candidates, each once: what to ask of a recording."""
    found = [
        inner_band(one.loudspeaker.sections, index)
        for one in plan.candidates
        for index in range(len(one.loudspeaker.sections))
    ]
    return tuple(dict.fromkeys(band for band in found if band != SectionBand()))


def recorded(statistics: RecordingStatistics) -> Recording:
    """What a plan keeps of a recording.

    Raises
    ------
    ValueError
        If it holds nothing within 20 Hz to 20 kHz, so that no loudspeaker would play it.
    """
    levels = _rows(statistics.bands, statistics.bands.level_dbfs)
    if not levels:
        raise ValueError(f"{statistics.file} holds nothing within 20 Hz to 20 kHz; give another recording")
    table, line = statistics.distribution, statistics.timeline
    return Recording(
        file=statistics.file,
        digest=statistics.digest,
        duration_s=statistics.duration_s,
        rms_dbfs=statistics.rms_dbfs,
        sample_peak_dbfs=statistics.sample_peak_dbfs,
        true_peak_dbtp=statistics.true_peak_dbtp,
        integrated_lufs=statistics.integrated_lufs,
        loudness_range_lu=statistics.loudness_range_lu,
        crest_db=max(statistics.crest_db, 0.0),  # that of a square wave may be a last digit below
        loud_crest_db=statistics.loud_crest_db,
        bands=levels,
        coherence=_rows(statistics.bands, statistics.bands.coherence) or None,
        sections=tuple(_sections(statistics.sections)),
        distribution=Distribution(level_re_rms_db=table.level_re_rms_db, share_above=table.share_above),
        clipped_tenths=statistics.clipped_tenths,
        timeline=Timeline(window_s=line.window_s, peak_dbfs=line.peak_dbfs),
    )


def with_recording(plan: Plan, recording: Recording) -> Plan:
    """The plan with a recording for its programme, and its loud crest factor for the programme's own.

    A coherence table of the plan's own gives way to what the recording says.
    """
    crest_db = min(max(recording.loud_crest_db, 0.0), 40.0)
    changes = {"kind": "recording", "recording": recording, "crest_db": crest_db, "coherence": None}
    programme = rebuilt(plan.programme, changes)
    assert isinstance(programme, Programme)
    after = put(plan, ("programme",), programme)
    assert isinstance(after, Plan)
    return after


def _rows(bands: BandStatistics, values: tuple[float | None, ...]) -> tuple[tuple[float, float], ...]:
    pairs = zip(bands.centre_hz, values, strict=True)
    return tuple((centre_hz, value) for centre_hz, value in pairs if value is not None)


def _sections(found: tuple[SectionStatistics, ...]) -> Iterator[RecordedSection]:
    for one in found:
        if one.crest_db is not None:
            yield RecordedSection(
                low_hz=one.band.low_hz,
                high_hz=one.band.high_hz,
                slopes_db_per_octave=one.band.slopes_db_per_octave,
                crest_db=max(one.crest_db, 0.0),
            )
