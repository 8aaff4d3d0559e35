"""What the room makes of its surfaces: reverberation, absorption and critical distance by octave."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planner.headroom.scene import BAND_HZ
from planner.report.content.blocks import Block, Column, Heading, Table, Text
from planner.report.content.measures import figure
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import band_text

__all__ = ["room_tables"]

OCTAVES_HZ = (31.5, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0)
BANDS = tuple(int(np.argmin(np.abs(np.log(BAND_HZ / hertz)))) for hertz in OCTAVES_HZ)


def room_tables(cases: Sequence[Case]) -> Iterator[Block]:
    """Values in the thirds at the middle of the octaves; critical distance is that of each loudspeaker."""
    room = cases[0].answer.outcome.room
    if room is None:
        return
    yield Heading(tr("What the room makes of it"), 3)
    columns = (
        Column(tr("Quantity"), side="left"),
        Column(tr("Unit"), side="left"),
        *(Column(band_text(float(BAND_HZ[band]))) for band in BANDS),
    )
    rows = [
        (tr("Reverberation time"), "s", *(figure(float(room.t60_s[band]), 2) for band in BANDS)),
        (tr("Mean absorption"), "", *(figure(float(room.mean_absorption[band]), 2) for band in BANDS)),
    ]
    for case in cases:
        own = case.answer.outcome.room
        if own is not None:
            name = tr("Critical distance, {candidate}", candidate=case.candidate.name)
            rows.append((name, "m", *(figure(float(own.critical_distance_m[band]), 2) for band in BANDS)))
    yield Table(columns, tuple(rows))
    text = tr(
        "Volume {volume} m³, surface {surface} m², Schroeder frequency {hertz} Hz.",
        volume=figure(room.volume_m3),
        surface=figure(room.surface_m2),
        hertz=figure(room.schroeder_hz),
    )
    yield Text(text, "note")
