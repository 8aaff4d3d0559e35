"""The map in words: its headline, what is read off it, and what those hear who cannot see it."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.figures import band_text, figure
from planner.desktop.charts.seat_panel import level_text, short_name, signed
from planner.desktop.floor_map.quantity import Quantity
from planner.desktop.floor_map.view import MapView, Spot
from planner.headroom.nulls import Null
from planner.headroom.outcome import SeatOutcome
from planner.plan.units import show

__all__ = ["headline", "nulls_text", "place_text", "reading", "summary", "target_text"]


def tr(text: str) -> str:
    """The text in the language of the window."""
    return QCoreApplication.translate("FloorMap", text)


def headline(view: MapView) -> str:
    """The answer that the whole floor gives, in a sentence."""
    if view.choice.quantity is Quantity.GAIN:
        return _gain_headline(view)
    least, most = (float(pick(view.map.headroom_db)) for pick in (np.nanmin, np.nanmax))
    if least >= 0.0:
        text = tr("Target met on the whole floor: {least} dB to spare at least")
    elif most < 0.0:
        text = tr("Target met nowhere: {most} dB missing even at the best place")
    else:
        text = tr("Target met on {share} of the floor")
    return text.format(least=figure(least, 1), most=figure(-most, 1), share=_percent(view.share_met))


def _gain_headline(view: MapView) -> str:
    if view.sight.plan.room is None:
        return tr("Open air: there is no room, and no room gain")
    least, most = view.span_db
    text = tr("At {band} the room gives {least} to {most} dB; {here} dB at {seat}")
    return text.format(
        band=band_text(float(view.sight.seat.bands.centre_hz[view.choice.band])),
        least=signed(least),
        most=signed(most),
        here=signed(view.choice.at(view.sight.seat)),
        seat=short_name(view.sight.seat.name),
    )


def _percent(share: float) -> str:
    """A share that is neither all nor nothing: never 0 % or 100 %."""
    return f"{min(max(round(100.0 * share), 1), 99)} %"


def summary(view: MapView) -> str:
    """What the map shows, as one tells it to somebody who cannot see it."""
    least, most = (view.choice.text(end) for end in view.span_db)
    text = tr("{headline}. {title} at ear height, {height}: from {least} to {most}. {seats}.")
    seats = "; ".join(
        f"{seat.name} {view.choice.text(view.choice.at(seat))}" for seat in view.sight.outcome.seats
    )
    return text.format(
        headline=headline(view),
        title=view.title,
        height=view.length_text(view.map.floor.height_m),
        least=least,
        most=most,
        seats=seats,
    )


def place_text(view: MapView, spot: Spot) -> str:
    """A place on the floor, to the centimetre or to half an inch."""
    return ", ".join(
        f"{axis} {show(value, 'm', view.preference)}" for axis, value in zip("xy", spot, strict=True)
    )


def reading(view: MapView, spot: Spot, exact: SeatOutcome | None, barred: bool) -> list[str]:
    """What someone would hear at a place: about so much at once, exactly once it has been computed.

    The room gain is told where the map shows it.
    """
    if barred:
        return [place_text(view, spot), tr("too near a stand for anyone to sit")]
    if exact is None:
        peak, headroom, gain = view.figures(spot)
        about = "≈ " if np.isfinite(peak) else ""
    else:
        peak, headroom, about = exact.loudest_peak_db, exact.headroom_db, ""
        gain = float(exact.bands.room_gain_db[view.choice.band])
    told = [
        place_text(view, spot),
        tr("Loudest peak {level} dB").format(level=about + figure(peak, 1)),
        tr("Headroom {headroom} dB").format(headroom=about + signed(headroom)),
    ]
    if view.choice.quantity is Quantity.GAIN:
        told.append(tr("{title} {gain} dB").format(title=view.title, gain=about + signed(gain)))
    return told


def nulls_text(found: tuple[Null, ...]) -> str:
    """The bands that the modes all but take away, seat by seat; empty if there are none."""
    text = tr("{band} is a null at {seat} (−{below} dB)")
    return "; ".join(
        text.format(band=band_text(one.band_hz), seat=one.seat, below=figure(one.below_db, 0))
        for one in found
    )


def target_text(view: MapView) -> str:
    """What the line on the map is."""
    if view.choice.quantity is Quantity.GAIN:
        return tr("no gain, 0 dB")
    if view.sight.plan.target.peak_db is None:
        return tr("target just met")
    return tr("target {level} dB").format(level=level_text(view.sight.seat.peak_target_db))
