"""The recording in the report: what each amplifier clips of it at the target, seat by seat."""

from __future__ import annotations

from collections.abc import Iterator

from planner.headroom.clipped import clipped_at
from planner.report.clipped_words import clipped_text
from planner.report.content.blocks import Block, Heading, Terms
from planner.report.gather import Case
from planner.report.language import tr

__all__ = ["recording_terms"]


def recording_terms(case: Case) -> Iterator[Block]:
    """What is clipped of the recording at every seat; nothing for a programme that is none."""
    recording = case.plan.programme.recording
    if recording is None:
        return
    yield Heading(tr("What is clipped of {file}", file=recording.file))
    told = []
    for seat in case.seats:
        cut = clipped_at(case.plan, case.index, seat.outcome)
        if cut is not None:
            told.append((seat.outcome.name, clipped_text(cut, recording)))
    yield Terms(tuple(told))
