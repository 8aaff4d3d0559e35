"""How long a level may be listened to: occupational and public-health guides, not a diagnosis."""

from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = [
    "EU_PEAK_LIMIT_DBC",
    "EU_PEAK_LOWER_ACTION_DBC",
    "EU_PEAK_UPPER_ACTION_DBC",
    "niosh_hours",
    "who_hours_per_week",
]

# Directive 2003/10/EC, article 3, peak sound pressure: 200 Pa, 140 Pa and 112 Pa.
EU_PEAK_LIMIT_DBC = 140.0
EU_PEAK_UPPER_ACTION_DBC = 137.0
EU_PEAK_LOWER_ACTION_DBC = 135.0


def niosh_hours(level_dba: ArrayLike) -> FloatArray:
    """Hours a day at a level that make a full daily dose by NIOSH.

    t = 8 h / 2^((L - 85) / 3): 85 dBA for 8 hours, half the time for each 3 dB more.

    Parameters
    ----------
    level_dba : float or array
        A-weighted average level at the ear; the published table runs from 80 to 130 [dB re 20 µPa].

    Returns
    -------
    float or array
        Time, in the shape of `level_dba`; beyond 24 a day is not long enough for a full dose [hour].

    Raises
    ------
    ValueError
        If a level is not a finite number.

    References
    ----------
    NIOSH 98-126, Criteria for a Recommended Standard: Occupational Noise Exposure (1998), table 1-1.

    Examples
    --------
    The table prints 15 minutes at 100 dBA.

    >>> print(f"{60 * niosh_hours(100.0):.0f} min")
    15 min
    """
    return _equal_energy_hours(level_dba, 85.0, 8.0)


def who_hours_per_week(level_dba: ArrayLike) -> FloatArray:
    """Hours a week at a level that use up the weekly sound allowance of adults.

    t = 40 h / 2^((L - 80) / 3): 80 dBA for 40 hours, half the time for each 3 dB more.

    Parameters
    ----------
    level_dba : float or array
        A-weighted average level at the ear [dB re 20 µPa].

    Returns
    -------
    float or array
        Time, in the shape of `level_dba`; a week has 168 of them [hour].

    Raises
    ------
    ValueError
        If a level is not a finite number.

    References
    ----------
    WHO / ITU-T H.870, Guidelines for safe listening devices, mode 1 (adults).

    Examples
    --------
    By hand: 89 dBA is three steps of 3 dB, so an eighth of 40 hours.

    >>> print(f"{who_hours_per_week(89.0):.0f} h")
    5 h
    """
    return _equal_energy_hours(level_dba, 80.0, 40.0)


def _equal_energy_hours(level_dba: ArrayLike, criterion_dba: float, criterion_hours: float) -> FloatArray:
    halvings = (floats("level_dba", level_dba) - criterion_dba) / 3.0
    hours: FloatArray = criterion_hours / 2.0**halvings
    return hours
