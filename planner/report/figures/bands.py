"""What happens band by band, on paper: headroom, room gain, and the span from quiet to loud."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planner.headroom.outcome import SeatOutcome, verdict_of
from planner.headroom.quiet_to_loud import QuietToLoud
from planner.headroom.room_gain import RoomGain
from planner.report.content.measures import signed
from planner.report.figures.chart import (
    Axis,
    Bars,
    Chart,
    Curve,
    Mark,
    Rule,
    Zone,
    octave_axis,
    rounded_axis,
)
from planner.report.language import tr
from planner.report.words import band_text

__all__ = ["headroom_chart", "room_gain_chart", "span_chart"]

FloatArray = NDArray[np.float64]
HALF_BAND = 10.0**0.05
BAR_SHARE = 0.78
MOST_SHOWN_DB = 60.0
LEAST_SHOWN_DB = -10.0


def headroom_chart(seat: SeatOutcome) -> Chart:
    """A bar for each third octave, from nothing to the headroom for that band's energy alone."""
    hz, headroom = seat.bands.centre_hz, np.minimum(seat.bands.headroom_db, MOST_SHOWN_DB)
    y = rounded_axis(tr("Headroom, dB"), min(0.0, float(headroom.min())), max(6.0, float(headroom.max())), 5)
    least = int(np.argmin(headroom))
    headline = tr(
        "{band} has least to spare: {headroom} dB",
        band=band_text(float(hz[least])),
        headroom=signed(float(headroom[least])),
    )
    half = HALF_BAND**BAR_SHARE
    tokens = tuple(_bar_token(float(value)) for value in headroom)
    marks: tuple[Mark, ...] = (
        Zone("y", 0.0, 3.0, "tight", alpha=0.14),
        Bars((hz / half, hz * half), (np.minimum(headroom, 0.0), np.maximum(headroom, 0.0)), tokens),
        Rule("y", 0.0, "ink"),
    )
    return Chart("headroom_by_band", headline, _band_axis(hz), y, marks)


def _bar_token(headroom_db: float) -> str:
    verdict = verdict_of(headroom_db)
    return "series 0" if verdict == "clears" else verdict


def room_gain_chart(gain: RoomGain) -> Chart:
    """Level at the seat over that in free field, with the regions in which to read it."""
    y = rounded_axis(
        tr("Room gain, dB"), min(0.0, float(gain.gain_db.min())), max(6.0, float(gain.gain_db.max())), 5
    )
    x = _band_axis(gain.band_hz)
    most = int(np.argmax(gain.gain_db))
    headline = tr(
        "The room adds most at {band}: {gain} dB",
        band=band_text(float(gain.band_hz[most])),
        gain=signed(float(gain.gain_db[most])),
    )
    return Chart("room_gain", headline, x, y, tuple(_room_gain_marks(gain, x)))


def _room_gain_marks(gain: RoomGain, x: Axis) -> Iterator[Mark]:
    names = {"pressure": tr("pressure"), "modal": tr("modes"), "statistical": tr("statistical")}
    tints = {"pressure": 0.16, "modal": 0.09, "statistical": 0.0}
    for region in gain.regions:
        low, high = max(region.low_hz, x.low), min(region.high_hz, x.high)
        if low < high:
            yield Zone("x", low, high, "series 3", names[region.kind], alpha=tints[region.kind])
    yield Rule("y", 0.0, "edge")
    yield Curve(gain.band_hz, gain.gain_db, "series 0", width_pt=1.6)


def span_chart(span: QuietToLoud, seat: str) -> Chart:
    """From the threshold of hearing to the loudest that the system can do."""
    curves = [
        (span.loudspeaker_db, "series 3", tr("loudspeaker"), (4.0, 1.5)),
        (span.clip_db, "series 1", tr("amplifier clips"), ()),
        (span.peak_db, "ink", tr("peaks asked for"), (2.0, 1.5)),
        (span.average_db, "series 0", tr("average"), ()),
        (span.room_db, "series 2", tr("room noise"), ()),
        (span.noise_db, "series 4", tr("amplifier noise"), ()),
        (span.threshold_db, "muted", tr("threshold of hearing"), (1.5, 1.5)),
    ]
    loudest = max(float(values.max()) for values, *_ in curves if values is not None)
    y = rounded_axis(tr("dB re 20 µPa in thirds"), LEAST_SHOWN_DB, loudest, 7)
    marks = tuple(
        Curve(span.centre_hz, np.where(values >= y.low, values, np.nan), token, name, 1.2, dash)
        for values, token, name, dash in curves
        if values is not None
    )
    headline = tr("What {seat} hears of each third octave", seat=seat)
    return Chart("quiet_to_loud", headline, _band_axis(span.centre_hz), y, marks)


def _band_axis(hz: FloatArray) -> Axis:
    return octave_axis(tr("Hz"), float(hz[0] / HALF_BAND), float(hz[-1] * HALF_BAND))
