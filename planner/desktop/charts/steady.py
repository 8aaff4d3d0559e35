"""Ends of a chart's side that hold still while the data move within them."""

import math

__all__ = ["Ends", "held"]

Ends = tuple[float, float]
IDLE_STEPS = 2.0


def held(low: float, high: float, step: float, now: Ends | None = None) -> Ends:
    """Ends in whole steps that hold the data, and those of now for as long as they serve.

    An end moves when the data pass it, or when they leave more than two further steps of it idle, so that
    a side stands still while a value is dragged to and fro.

    Parameters
    ----------
    low, high : float
        Least and greatest value to be shown, finite [unit of the side].
    step : float
        What the ends are whole multiples of, above 0 [unit of the side].
    now : tuple of two floats, optional
        The ends as they stand, whole multiples of the step [unit of the side].

    Returns
    -------
    tuple of two floats
        The two ends, apart by a step at least [unit of the side].

    Examples
    --------
    A peak that falls from 104 to 101 dB leaves the side alone; at 87 dB it has left it too far behind.

    >>> held(83.0, 104.0, 5.0), held(83.0, 101.0, 5.0, (80.0, 105.0)), held(83.0, 87.0, 5.0, (80.0, 105.0))
    ((80.0, 105.0), (80.0, 105.0), (80.0, 90.0))
    """
    bottom = math.floor(low / step) * step
    top = max(math.ceil(high / step) * step, bottom + step)
    if now is None:
        return (bottom, top)
    idle = IDLE_STEPS * step + 1e-9
    return (
        now[0] if now[0] <= low and bottom - now[0] <= idle else bottom,
        now[1] if high <= now[1] and now[1] - top <= idle else top,
    )
