"""Two triodes in push-pull behind an output transformer, class A1 or AB1.

The plate supplies of such stages are lethal.
"""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive
from planner.electrics.distortion import harmonics, total_distortion
from planner.electrics.single_ended import COSINE
from planner.electrics.triode import PlateLaw, below_zero, current_and_slope

__all__ = ["push_pull_line", "push_pull_power"]

HALVINGS = 52  # to the last bit of a float


def push_pull_line(
    law: PlateLaw, plate_v: ArrayLike, grid_v: ArrayLike, load_ohm: ArrayLike, drive_v: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Plate currents of two like triodes over one cycle of opposite sines on their grids.

    v = (R / 4) (i1 - i2): one plate stands v below the supply, the other v above.

    Parameters
    ----------
    law : PlateLaw
        Either triode, currents in [A].
    plate_v : float or array
        Plate to cathode at rest, above 0 [V].
    grid_v : float or array
        Fixed bias, below 0 [V].
    load_ohm : float or array
        Load R from plate to plate, windings counted in, above 0 [ohm].
    drive_v : float or array
        Peak of each grid's sine; above -grid_v its top is flattened at 0 V, above 0 [V].

    Returns
    -------
    first_a : array
        Current i1, arguments broadcast, then 72 samples of a cosine's cycle [A].
    second_a : array
        Current i2, of the same shape [A].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    Notes
    -----
    The halves of the primary are wholly coupled, the supply is stiff, the load a resistance.

    References
    ----------
    Thompson, Graphical determination of performance of push-pull audio amplifiers, Proc. IRE 21
    (1933): the composite valve (from memory).

    Examples
    --------
    By hand: the second is the first, half a cycle later.

    >>> from planner.electrics.triode import operating_law
    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> first, second = push_pull_line(law, 300.0, -62.0, 3000.0, 62.0)
    >>> print(np.allclose(np.roll(first, 36), second))
    True
    """
    valve = PlateLaw(*(np.asarray(field)[..., None] for field in law))
    quarter = positive("load_ohm", load_ohm)[..., None] / 4.0
    rest_v, bias = positive("plate_v", plate_v)[..., None], below_zero("grid_v", grid_v)[..., None]
    swing = positive("drive_v", drive_v)[..., None] * COSINE
    first_grid, second_grid = np.minimum(bias + swing, 0.0), np.minimum(bias - swing, 0.0)
    low, high = -rest_v, rest_v
    for _ in range(HALVINGS):
        drop = 0.5 * (low + high)
        first, _ = current_and_slope(valve, rest_v - drop, first_grid)
        second, _ = current_and_slope(valve, rest_v + drop, second_grid)
        beyond = drop > quarter * (first - second)
        low, high = np.where(beyond, low, drop), np.where(beyond, drop, high)
    return first, second


def push_pull_power(
    law: PlateLaw,
    plate_v: ArrayLike,
    grid_v: ArrayLike,
    load_ohm: ArrayLike,
    drive_v: ArrayLike | None = None,
) -> tuple[FloatArray, FloatArray]:
    """Sine watts of a push-pull pair into its plate-to-plate load, and their distortion.

    P = R d1^2 / 8, d1 the peak of the fundamental of i1 - i2.

    Parameters
    ----------
    law : PlateLaw
        Either triode, currents in [A].
    plate_v : float or array
        Plate to cathode at rest, above 0 [V].
    grid_v : float or array
        Fixed bias, below 0 [V].
    load_ohm : float or array
        Load R from plate to plate, windings counted in, above 0 [ohm].
    drive_v : float or array, optional
        Peak of each grid's sine, above 0; to 0 V on the grid if left out [V].

    Returns
    -------
    watts : float or array
        Power into R, arguments broadcast [W].
    distortion_pct : float or array
        Total harmonic distortion, of the same shape; like valves leave odd harmonics alone [percent].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    As `push_pull_line`.

    Examples
    --------
    By hand, valves without curvature: twice the watts of one into R / 2 = 2 rp, 2 x 160^2 / 9000.

    >>> from planner.electrics.triode import operating_law
    >>> law = operating_law(240.0, -40.0, 0.080, 4.0, 1000.0, knee=1000.0)
    >>> watts, distortion = push_pull_power(law, 240.0, -40.0, 4000.0)
    >>> print(f"{watts:.4f} W")
    5.6889 W
    """
    drive = -below_zero("grid_v", grid_v) if drive_v is None else drive_v
    first, second = push_pull_line(law, plate_v, grid_v, load_ohm, drive)
    peaks = harmonics(first - second)
    return positive("load_ohm", load_ohm) * peaks[..., 1] ** 2 / 8.0, total_distortion(peaks)
