"""A single triode in class A behind an output transformer: load line, watts, distortion.

The plate supplies of such stages are lethal.
"""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive
from planner.electrics.distortion import harmonics, total_distortion
from planner.electrics.triode import CLOSE, ROUNDS, PlateLaw, below_zero, current_and_slope

__all__ = ["load_line", "sine_power"]

SAMPLES = 72  # of a cycle; 0, 60, 90, 120 and 180 degrees, the handbooks' five ordinates, are among them
COSINE = np.cos(2.0 * np.pi * np.arange(SAMPLES) / SAMPLES)


def load_line(
    law: PlateLaw,
    plate_v: ArrayLike,
    grid_v: ArrayLike,
    load_ohm: ArrayLike,
    drive_v: ArrayLike,
    primary_winding_ohm: ArrayLike = 0.0,
) -> tuple[FloatArray, FloatArray]:
    """Plate current and voltage over one cycle of a sine on the grid.

    v = Vb - r1 (Im - I0) - (R + r1) (i - Im): signal moves along R + r1, the mean current Im along r1.

    Parameters
    ----------
    law : PlateLaw
        The triode, currents in [A].
    plate_v : float or array
        Plate to cathode Vb at rest, above 0 [V].
    grid_v : float or array
        Fixed bias, below 0 [V].
    load_ohm : float or array
        Load R reflected to the primary, above 0 [ohm].
    drive_v : float or array
        Peak of the grid's sine; above -grid_v its top is flattened at 0 V, as by a driver that
        cannot feed a grid, above 0 [V].
    primary_winding_ohm : float or array
        Resistance r1 of the primary, 0 or more [ohm].

    Returns
    -------
    current_a : array
        Plate current i, arguments broadcast, then 72 samples of a cosine's cycle [A].
    plate_v : array
        Plate voltage v, of the same shape [V].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    Notes
    -----
    Fixed bias, stiff supply, load a resistance, no feedback. Cathode bias would hold the mean current
    nearer to the one at rest. The voltages follow by Newton's method, which descends on a convex curve.

    References
    ----------
    Load line with its shift by rectification: Langford-Smith, Radiotron Designer's Handbook, 4th ed.,
    chapter 13.

    Examples
    --------
    By hand: without resistance in the primary the mean stays 250 V, and the slope is the load's.

    >>> from planner.electrics.triode import operating_law
    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> current, plate = load_line(law, 250.0, -45.0, 2500.0, 45.0)
    >>> print(f"{plate.mean():.1f} V, {np.ptp(plate) / np.ptp(current):.0f} ohm")
    250.0 V, 2500 ohm
    """
    valve = PlateLaw(*(np.asarray(field)[..., None] for field in law))
    load = positive("load_ohm", load_ohm)[..., None]
    winding = positive("primary_winding_ohm", primary_winding_ohm, or_zero=True)[..., None]
    rest_v, bias = positive("plate_v", plate_v)[..., None], below_zero("grid_v", grid_v)[..., None]
    grid = np.minimum(bias + positive("drive_v", drive_v)[..., None] * COSINE, 0.0)
    shorted_v = rest_v + winding * current_and_slope(valve, rest_v, bias)[0]
    volts = _balance(valve, grid, load, winding, shorted_v)
    current = current_and_slope(valve, volts, grid)[0]
    return current, volts


def sine_power(
    law: PlateLaw,
    plate_v: ArrayLike,
    grid_v: ArrayLike,
    load_ohm: ArrayLike,
    drive_v: ArrayLike | None = None,
    primary_winding_ohm: ArrayLike = 0.0,
) -> tuple[FloatArray, FloatArray]:
    """Sine watts into a load at the plate, and their distortion.

    P = R i1^2 / 2, i1 the peak of the plate current's fundamental.

    Parameters
    ----------
    law : PlateLaw
        The triode, currents in [A].
    plate_v : float or array
        Plate to cathode at rest, above 0 [V].
    grid_v : float or array
        Fixed bias, below 0 [V].
    load_ohm : float or array
        Load R reflected to the primary, above 0 [ohm].
    drive_v : float or array, optional
        Peak of the grid's sine, above 0; to 0 V on the grid, the limit of class A1, if left out [V].
    primary_winding_ohm : float or array
        Resistance of the primary, 0 or more [ohm].

    Returns
    -------
    watts : float or array
        Power into R, arguments broadcast [W].
    distortion_pct : float or array
        Total harmonic distortion, of the same shape [percent].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    Notes
    -----
    Against five published class A1 ratings of directly heated triodes, 0.8 to 18 W, watts come out 2 to
    18 % too many; the second harmonic comes out at 3.9 to 4.9 % where manuals say 5 %.

    References
    ----------
    As `load_line` and `harmonics`.

    Examples
    --------
    By hand, a valve without curvature into twice its plate resistance: (mu E)^2 / (9 rp) = 160^2 / 9000.

    >>> from planner.electrics.triode import operating_law
    >>> law = operating_law(240.0, -40.0, 0.080, 4.0, 1000.0, knee=1000.0)
    >>> watts, distortion = sine_power(law, 240.0, -40.0, 2000.0)
    >>> print(f"{watts:.4f} W")
    2.8444 W
    """
    drive = -below_zero("grid_v", grid_v) if drive_v is None else drive_v
    current, _ = load_line(law, plate_v, grid_v, load_ohm, drive, primary_winding_ohm)
    peaks = harmonics(current)
    return 0.5 * positive("load_ohm", load_ohm) * peaks[..., 1] ** 2, total_distortion(peaks)


def _balance(
    law: PlateLaw, grid: FloatArray, load: FloatArray, winding: FloatArray, shorted_v: FloatArray
) -> FloatArray:
    """Plate volts over the cycle, the open end of the line held where its own mean current puts it."""
    open_v = shorted_v
    volts = open_v + 0.0 * grid
    for _ in range(ROUNDS):
        volts = _descend(law, grid, load + winding, open_v, volts)
        current, slope = current_and_slope(law, volts, grid)
        per_volt = load * np.mean(slope / (1.0 + (load + winding) * slope), axis=-1, keepdims=True)
        gap = shorted_v + load * np.mean(current, axis=-1, keepdims=True) - open_v
        step = gap / (1.0 - per_volt)
        open_v, volts = open_v + step, volts + np.maximum(step, 0.0)
        if np.all(np.abs(step) <= CLOSE * open_v):
            break
    return volts


def _descend(
    law: PlateLaw, grid: FloatArray, line: FloatArray, open_v: FloatArray, volts: FloatArray
) -> FloatArray:
    """Plate volts where the line from *open_v* meets the valve; *volts* must not lie below them."""
    for _ in range(ROUNDS):
        current, slope = current_and_slope(law, volts, grid)
        step = (volts + line * current - open_v) / (1.0 + line * slope)
        volts = volts - step
        if np.all(np.abs(step) <= CLOSE * open_v):
            break
    return volts
