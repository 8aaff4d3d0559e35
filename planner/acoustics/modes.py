"""Modes of a shoebox room: their frequencies, and the sound they carry from a source to a receiver."""

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.green import ComplexArray, IntArray, box_modes, level_field, pair_field

__all__ = ["floor_transfer", "mode_frequencies", "transfer", "transfer_db"]

SOUND_SPEED = 343.2
MOST_MODES = 5_000_000
COINCIDENT_M = 1e-6
ROUNDING_M = 1e-9


def mode_frequencies(
    dimensions_m: ArrayLike, up_to_hz: float, sound_speed: float = SOUND_SPEED
) -> tuple[FloatArray, IntArray]:
    """Natural frequencies of a rigid-walled shoebox room, with the orders that name them.

    f = c/2 sqrt((l/Lx)^2 + (m/Ly)^2 + (n/Lz)^2).

    Parameters
    ----------
    dimensions_m : array (3,)
        Inner length, width and height, each above 0 [m].
    up_to_hz : float
        Highest frequency listed, itself included, 0 or more [Hz].
    sound_speed : float
        Speed of sound, above 0 [m/s].

    Returns
    -------
    array (n,)
        Frequencies, ascending, without the (0, 0, 0) mode [Hz].
    array (n, 3)
        Orders along length, width and height of each [1].

    Raises
    ------
    ValueError
        If an argument is outside the limits above, or asks for some five million modes and more.

    References
    ----------
    Long, Architectural Acoustics, 2nd ed., chapter 8; Kuttruff, Room Acoustics, chapter 3.

    Examples
    --------
    By hand, for 7 x 5 x 3 m: 343/(2 x 7) = 24.5, 343/(2 x 5) = 34.3, and the root of their squares 42.15.

    >>> frequencies, orders = mode_frequencies((7.0, 5.0, 3.0), 45.0, 343.0)
    >>> [f"{f:.2f} {tuple(order)}" for f, order in zip(frequencies, orders.tolist(), strict=True)]
    ['24.50 (1, 0, 0)', '34.30 (0, 1, 0)', '42.15 (1, 1, 0)']
    """
    size = _size(dimensions_m)
    per_hz = 2.0 * np.pi / float(floats("sound_speed", sound_speed, above=0.0))
    # The margin keeps a mode that lies on the limit from being lost to the last bit.
    highest_k2 = (per_hz * float(floats("up_to_hz", up_to_hz, at_least=0.0))) ** 2 * (1.0 + 1e-12)
    asked = float(np.prod(np.sqrt(highest_k2) * size / np.pi + 1.0))
    if asked > MOST_MODES:
        raise ValueError(f"up_to_hz of {up_to_hz:g} asks for some {asked:.1g} modes, above {MOST_MODES:g}")
    orders, mode_k2 = next(box_modes(size, highest_k2, MOST_MODES))
    ascending = np.argsort(mode_k2, kind="stable")[1:]
    return np.sqrt(mode_k2[ascending]) / per_hz, orders[ascending]


def transfer(
    dimensions_m: ArrayLike,
    source_m: ArrayLike,
    receiver_m: ArrayLike,
    frequency_hz: ArrayLike,
    t60_s: ArrayLike,
    sound_speed: ArrayLike = SOUND_SPEED,
    *,
    leak_hz: float = 0.0,
) -> ComplexArray:
    r"""Sound pressure of a point source in a shoebox room, with its phase: 4 pi G.

    .. math::

        4\pi G = \frac{4\pi}{V} \sum_{lmn} \frac{\varepsilon_{lmn}\,\psi_{lmn}(x)\,\psi_{lmn}(x_0)}
        {k_{lmn}^2 - k^2}, \quad k = (\omega - j\delta)/c, \quad \delta = 3 \ln 10 / T_{60}

    with time as exp(+j omega t). It equals the sum of exp(-jkr)/r over all image sources.

    The leading axes of the positions broadcast with the axes of the frequencies as numpy arrays do: sources
    (N, 1, 1, 3), receivers (1, K, 1, 3) and frequencies (F,) give (N, K, F). Where both vary along one and
    the same axis, all their combinations are computed first.

    Parameters
    ----------
    dimensions_m : array (3,)
        Inner length, width and height; tried from 0.5 to 100 [m].
    source_m : array (..., 3)
        Point source, in the room or on its walls [m].
    receiver_m : array (..., 3)
        Receiver, in the room or on its walls, not at a source [m].
    frequency_hz : float or array
        Frequency, above 0; the work grows as volume times its cube [Hz].
    t60_s : float or array
        Reverberation time at that frequency, above 0; tried from 0.05 to 30 [s].
    sound_speed : float or array
        Speed of sound, above 0 [m/s].
    leak_hz : float
        Corner below which the room holds no static pressure: the (0, 0, 0) mode is multiplied by
        jf/(jf + leak_hz). 0 is a sealed room [Hz].

    Returns
    -------
    complex array
        Pressure re that of the same source in free field at 1 m; error below 1e-6 (1e-6 of it above 1) [1].

    Raises
    ------
    ValueError
        If a position is outside the room, a receiver within 1e-6 m of a source, or a value off limits.

    References
    ----------
    Kuttruff, Room Acoustics, chapter 3 (modes); Allen and Berkley 1979 (images); Ewald 1921 (both at once).

    Examples
    --------
    Far below the first mode the air is a spring, 4 pi/(V |k|^2). By hand for 24 m^3 at 1 Hz, T60 1.5 s:
    |k|^2 = (6.283^2 + 4.605^2)/343.2^2 = 5.152e-4, so 12.566/(24 x 5.152e-4) = 1016; all other modes add 1.

    >>> value = transfer((4.0, 3.0, 2.0), (0.5, 0.5, 0.5), (3.0, 2.0, 1.2), 1.0, 1.5)
    >>> print(f"{abs(value):.0f}")
    1017
    """
    size = _size(dimensions_m)
    source, receiver = np.broadcast_arrays(
        _positions("source_m", source_m, size), _positions("receiver_m", receiver_m, size)
    )
    pairs = source.shape[:-1]
    source, receiver = source.reshape(-1, 3), receiver.reshape(-1, 3)
    _refuse_coincident(source, receiver)
    frequency, k2 = _wavenumbers(frequency_hz, t60_s, sound_speed)
    field = pair_field(size, source, receiver, k2.ravel())
    field += _leaked(size, frequency, k2, leak_hz).ravel()
    row, line = np.arange(len(source)).reshape(pairs), np.arange(k2.size).reshape(k2.shape)
    picked: ComplexArray = field[row, line]
    return picked


def transfer_db(
    dimensions_m: ArrayLike,
    source_m: ArrayLike,
    receiver_m: ArrayLike,
    frequency_hz: ArrayLike,
    t60_s: ArrayLike,
    sound_speed: ArrayLike = SOUND_SPEED,
) -> FloatArray:
    """Level of a point source in a sealed, rigid-walled shoebox room: 20 log |4 pi G|.

    Parameters
    ----------
    dimensions_m : array (3,)
        Inner length, width and height; tried from 0.5 to 100 [m].
    source_m : array (..., 3)
        Point source, in the room or on its walls [m].
    receiver_m : array (..., 3)
        Receiver, in the room or on its walls, not at a source [m].
    frequency_hz : float or array
        Frequency, above 0; broadcasts with the leading axes of the positions, as in `transfer` [Hz].
    t60_s : float or array
        Reverberation time at that frequency, above 0; tried from 0.05 to 30 [s].
    sound_speed : float or array
        Speed of sound, above 0 [m/s].

    Returns
    -------
    float or array
        Level, to 0.05 dB down to -70 dB [dB re the free field of the same source at 1 m].

    Raises
    ------
    ValueError
        As `transfer` does.

    References
    ----------
    As `transfer`.

    Examples
    --------
    By hand, as in `transfer`: 20 log 1017 = 60.1 dB.

    >>> print(f"{transfer_db((4.0, 3.0, 2.0), (0.5, 0.5, 0.5), (3.0, 2.0, 1.2), 1.0, 1.5):.1f} dB")
    60.1 dB
    """
    field = transfer(dimensions_m, source_m, receiver_m, frequency_hz, t60_s, sound_speed)
    level: FloatArray = 20.0 * np.log10(np.maximum(np.abs(field), np.finfo(float).tiny))
    return level


def floor_transfer(
    dimensions_m: ArrayLike,
    source_m: ArrayLike,
    x_m: ArrayLike,
    y_m: ArrayLike,
    z_m: float,
    frequency_hz: ArrayLike,
    t60_s: ArrayLike,
    sound_speed: ArrayLike = SOUND_SPEED,
    *,
    leak_hz: float = 0.0,
) -> ComplexArray:
    """Sound pressure of point sources over a level grid: `transfer`, summed axis by axis and so far quicker.

    Points nearer than 0.01 m to a source are allowed and finite: the source is blurred to that size.

    Parameters
    ----------
    dimensions_m : array (3,)
        Inner length, width and height; tried from 0.5 to 100 [m].
    source_m : array (N, 3)
        Point sources, in the room or on its walls [m].
    x_m : array (X,)
        Places along the length [m].
    y_m : array (Y,)
        Places along the width [m].
    z_m : float
        Height of the grid [m].
    frequency_hz : array (F,)
        Frequencies, above 0 [Hz].
    t60_s : float or array (F,)
        Reverberation time at each frequency, above 0 [s].
    sound_speed : float or array (F,)
        Speed of sound, above 0 [m/s].
    leak_hz : float
        As in `transfer` [Hz].

    Returns
    -------
    complex array (N, F, X, Y)
        Pressure re that of the same source in free field at 1 m; error as in `transfer` [1].

    Raises
    ------
    ValueError
        If a position is outside the room, or a value or a shape is not as above.

    References
    ----------
    As `transfer`.

    Examples
    --------
    The point (3, 2) of this grid is the receiver of the example of `transfer`.

    >>> field = floor_transfer((4.0, 3.0, 2.0), [(0.5, 0.5, 0.5)], [1.0, 3.0], [2.0], 1.2, [1.0], 1.5)
    >>> print(field.shape, f"{abs(field[0, 0, 1, 0]):.0f}")
    (1, 1, 2, 1) 1017
    """
    size = _size(dimensions_m)
    source = _positions("source_m", source_m, size)
    grid = [
        np.atleast_1d(_within(name, floats(name, places), size[axis]))
        for axis, (name, places) in enumerate((("x_m", x_m), ("y_m", y_m), ("z_m", z_m)))
    ]
    frequency, k2 = _wavenumbers(np.atleast_1d(frequency_hz), t60_s, sound_speed)
    if source.ndim != 2 or k2.ndim != 1 or grid[0].ndim > 1 or grid[1].ndim > 1 or grid[2].shape != (1,):
        raise ValueError("a floor takes source_m (N, 3), x_m (X,), y_m (Y,), one z_m, and frequency_hz (F,)")
    field = level_field(size, source, grid, k2)
    field += _leaked(size, frequency, k2, leak_hz)[:, None, None]
    return field


def _size(dimensions_m: ArrayLike) -> FloatArray:
    size = floats("dimensions_m", dimensions_m, above=0.0)
    if size.shape != (3,):
        raise ValueError(f"dimensions_m must be length, width and height, got shape {size.shape}")
    return size


def _positions(name: str, position_m: ArrayLike, size: FloatArray) -> FloatArray:
    position = floats(name, position_m)
    if position.ndim == 0 or position.shape[-1] != 3:
        raise ValueError(f"{name} must have x, y, z along its last axis, got shape {position.shape}")
    return _within(name, position, size)


def _within(name: str, position: FloatArray, side: FloatArray) -> FloatArray:
    outside = (position < -ROUNDING_M) | (position > side + ROUNDING_M)
    if np.any(outside):
        raise ValueError(f"{name} must lie in the room, from 0 to {side} m, got {position[outside][0]:g} m")
    return position


def _refuse_coincident(source: FloatArray, receiver: FloatArray) -> None:
    squared_m2 = ((receiver - source) ** 2).sum(axis=-1)
    if squared_m2.min(initial=np.inf) < COINCIDENT_M**2:
        place = receiver[squared_m2.argmin()]
        raise ValueError(f"receiver_m must be {COINCIDENT_M:g} m from source_m at least, both: {place} m")


def _wavenumbers(
    frequency_hz: ArrayLike, t60_s: ArrayLike, sound_speed: ArrayLike
) -> tuple[FloatArray, ComplexArray]:
    """Frequency and squared complex wavenumber, in one shape."""
    frequency, t60, speed = np.broadcast_arrays(
        floats("frequency_hz", frequency_hz, above=0.0),
        floats("t60_s", t60_s, above=0.0),
        floats("sound_speed", sound_speed, above=0.0),
    )
    damping = 3.0 * np.log(10.0) / t60
    return frequency, ((2.0 * np.pi * frequency - 1j * damping) / speed) ** 2


def _leaked(size: FloatArray, frequency: FloatArray, k2: ComplexArray, leak_hz: float) -> ComplexArray:
    """What the (0, 0, 0) mode loses when it is multiplied by jf/(jf + leak)."""
    leak = float(floats("leak_hz", leak_hz, at_least=0.0))
    lost: ComplexArray = 4.0 * np.pi / (np.prod(size) * k2) * leak / (1j * frequency + leak)
    return lost
