"""Curves smoothed to one-third octaves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.acoustics import FloatArray
from planner.acoustics.bands import exact_third, interpolate, third_octaves
from planner.measurements.curves import Curve
from planner.measurements.errors import MeasurementError

__all__ = ["smoothed_to_thirds"]

_POINTS = 48  # at which the curve is read in each third


def smoothed_to_thirds(curve: Curve) -> Curve:
    """Mean of a curve over each one-third octave that it reaches into.

    Levels are averaged as powers, ohms and unwrapped degrees as they are, over the logarithm of frequency; at
    the ends over the part of the third that was measured.

    Parameters
    ----------
    curve : Curve
        Response or impedance [dimensionless].

    Returns
    -------
    Curve
        The same at exact mid frequencies [dimensionless].

    Raises
    ------
    MeasurementError
        If the curve runs over angles.

    References
    ----------
    IEC 61260-1:2014 for the bands; the mean: common practice, no published source.

    Examples
    --------
    By hand: what is flat stays flat.

    >>> flat = Curve("response", (100.0, 200.0), (90.0, 90.0), None, "", True)
    >>> print([round(level, 3) for level in smoothed_to_thirds(flat).values])
    [90.0, 90.0, 90.0, 90.0]
    """
    if curve.kind == "off_axis":
        raise MeasurementError("a curve over angles has no one-third octaves")
    mids, places = _places(curve)
    values = _read(curve, np.array(curve.values), places)
    if curve.kind == "response":
        means = 10.0 * np.log10(np.mean(10.0 ** (values / 10.0), axis=1))
    else:
        means = values.mean(axis=1)
    phase = None
    if curve.phase_deg is not None:
        unwrapped = np.unwrap(np.array(curve.phase_deg), period=360.0)
        phase = tuple(_wrapped(_read(curve, unwrapped, places).mean(axis=1)).tolist())
    return replace(curve, points=tuple(mids.tolist()), values=tuple(means.tolist()), phase_deg=phase)


def _places(curve: Curve) -> tuple[FloatArray, FloatArray]:
    """Mids of the thirds (n,), and the frequencies in each at which the curve is read (n, points)."""
    lowest, highest = curve.points[0], curve.points[-1]
    mids = third_octaves(float(exact_third(lowest)), float(exact_third(highest)))
    low = np.maximum(np.log(mids * 10.0**-0.05), np.log(lowest))[:, np.newaxis]
    high = np.minimum(np.log(mids * 10.0**0.05), np.log(highest))[:, np.newaxis]
    middle = (np.arange(_POINTS) + 0.5) / _POINTS
    places: FloatArray = np.exp(low + (high - low) * middle)
    return mids, places


def _read(curve: Curve, values: FloatArray, places: FloatArray) -> FloatArray:
    return interpolate(places, curve.points, values)


def _wrapped(angle_deg: FloatArray) -> FloatArray:
    """The same angles between -180 and 180 degrees."""
    wrapped: FloatArray = (angle_deg + 180.0) % 360.0 - 180.0
    return wrapped
