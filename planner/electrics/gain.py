"""Gain from groove or line to the loudspeaker's terminals."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = [
    "CARTRIDGE_VELOCITY_CM_S",
    "PEAK_VELOCITY_CM_S",
    "amplified_volts",
    "cartridge_volts",
    "gain_between",
    "overload_velocity",
    "riaa_gain_db",
]

CARTRIDGE_VELOCITY_CM_S = 5.0
"""Peak lateral velocity (3.54 cm/s rms) of the 1 kHz tone for which a cartridge's mV rms are stated."""

PEAK_VELOCITY_CM_S = 20.0
"""Velocity of the highest peaks on a record, as one of 1 kHz: 12 dB above 5 cm/s.

The recording curve raises treble and lowers bass on the record, and playback undoes it: at the output
of the stage peaks of any frequency are taken to be as high. Common practice, no published source;
the loudest cuts reach twice as much.
"""

# IEC 60098: time constants of the playback curve and of its later amendment for the lowest bass, in s.
_BASS_S, _MIDDLE_S, _TREBLE_S, _RUMBLE_S = 3180e-6, 318e-6, 75e-6, 7950e-6


def riaa_gain_db(frequency_hz: ArrayLike, iec_amendment: bool = False) -> FloatArray:
    """Gain of a phono stage's playback curve against its gain at 1 kHz.

    H = (1 + j w 318 us) / ((1 + j w 3180 us) (1 + j w 75 us)); the amendment multiplies by
    j w 7950 us / (1 + j w 7950 us).

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 [Hz].
    iec_amendment : bool
        With the roll-off of the lowest bass that an amendment asked for and most stages leave out
        [dimensionless].

    Returns
    -------
    float or array
        Gain, 0 at 1 kHz, in the shape of `frequency_hz` [dB].

    Raises
    ------
    ValueError
        If a frequency is not above 0.

    References
    ----------
    IEC 60098 and its amendment (the RIAA time constants of 3180, 318 and 75 us, and 7950 us).

    Examples
    --------
    The usual table prints +16.95 dB at 50 Hz and -13.73 dB at 10 kHz.

    >>> print(f"{riaa_gain_db(50.0):.2f} dB, {riaa_gain_db(10000.0):.2f} dB")
    16.95 dB, -13.73 dB
    """
    frequency = positive("frequency_hz", frequency_hz)
    power, reference = (_riaa_power(hz, iec_amendment) for hz in (frequency, np.asarray(1000.0)))
    gain: FloatArray = 10.0 * np.log10(power / reference)
    return gain


def cartridge_volts(cartridge_mv: ArrayLike, velocity_cm_s: ArrayLike) -> FloatArray:
    """What a cartridge gives of a groove velocity.

    V = mV / 1000 x v / 5 cm/s.

    Parameters
    ----------
    cartridge_mv : float or array
        Output at 5 cm/s peak, as rms of a channel, 0 or more [mV].
    velocity_cm_s : float or array
        Peak lateral velocity v of a tone, 0 or more [cm/s].

    Returns
    -------
    float or array
        RMS of that tone, broadcast; its peak is sqrt(2) times as much [V].

    Raises
    ------
    ValueError
        If an argument is negative.

    References
    ----------
    Proportion. 5 cm/s peak lateral at 1 kHz is the usual convention of data sheets; a tone of 5 cm/s
    along one groove wall reads 3 dB more.

    Examples
    --------
    By hand: 2.5 mV and four times the velocity.

    >>> print(f"{1000 * cartridge_volts(2.5, 20.0):.1f} mV")
    10.0 mV
    """
    sensitivity = positive("cartridge_mv", cartridge_mv, or_zero=True) / 1000.0
    return sensitivity * positive("velocity_cm_s", velocity_cm_s, or_zero=True) / CARTRIDGE_VELOCITY_CM_S


def amplified_volts(volts: ArrayLike, gain_db: ArrayLike) -> FloatArray:
    """Voltage after a gain.

    V2 = V1 x 10^(G/20).

    Parameters
    ----------
    volts : float or array
        Voltage before it V1, 0 or more [V].
    gain_db : float or array
        Gain G, negative for a loss [dB].

    Returns
    -------
    float or array
        Voltage, broadcast [V].

    Raises
    ------
    ValueError
        If a voltage is negative.

    References
    ----------
    Definition of the decibel for voltages.

    Examples
    --------
    By hand: 20 dB are ten times.

    >>> print(f"{amplified_volts(0.5, 20.0):.1f} V")
    5.0 V
    """
    before = positive("volts", volts, or_zero=True)
    after: FloatArray = before * 10.0 ** (np.asarray(gain_db, dtype=float) / 20.0)
    return after


def gain_between(input_v: ArrayLike, output_v: ArrayLike) -> FloatArray:
    """Gain that makes one voltage of another.

    G = 20 log10(V2 / V1).

    Parameters
    ----------
    input_v : float or array
        Voltage before the gain V1, above 0 [V].
    output_v : float or array
        Voltage after it V2, above 0 [V].

    Returns
    -------
    float or array
        Gain, broadcast [dB].

    Raises
    ------
    ValueError
        If a voltage is not above 0.

    References
    ----------
    Definition of the decibel for voltages.

    Examples
    --------
    By hand: from 2.5 mV to 2 V is a factor of 800.

    >>> print(f"{gain_between(0.0025, 2.0):.2f} dB")
    58.06 dB
    """
    ratio = positive("output_v", output_v) / positive("input_v", input_v)
    gain: FloatArray = 20.0 * np.log10(ratio)
    return gain


def overload_velocity(
    frequency_hz: ArrayLike, overload_v: ArrayLike, cartridge_mv: ArrayLike, phono_gain_db: ArrayLike
) -> FloatArray:
    """Groove velocity at which a phono stage's output overloads.

    v = 5 cm/s x Vo / (mV / 1000 x 10^((G + H)/20)), H the playback curve: a stage that clips at its
    output stands least in the bass, and far more in the treble.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency of the tone, above 0 [Hz].
    overload_v : float or array
        Greatest rms output of the stage Vo, 0 or more [V].
    cartridge_mv : float or array
        Output of the cartridge at 5 cm/s, above 0 [mV].
    phono_gain_db : float or array
        Gain of the stage at 1 kHz G [dB].

    Returns
    -------
    float or array
        Peak lateral velocity, broadcast [cm/s].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    IEC 60098 (the playback curve without its amendment).

    Examples
    --------
    By hand: 5 mV x 100 are 0.5 V at 5 cm/s and 1 kHz; 8 V are 16 times that; at 50 Hz 16.95 dB less.

    >>> print(np.round(overload_velocity([50.0, 1000.0], 8.0, 5.0, 40.0), 1))
    [11.4 80. ]
    """
    gain_db = np.asarray(phono_gain_db, dtype=float) + riaa_gain_db(frequency_hz)
    at_5_cm_s = amplified_volts(positive("cartridge_mv", cartridge_mv) / 1000.0, gain_db)
    return CARTRIDGE_VELOCITY_CM_S * positive("overload_v", overload_v, or_zero=True) / at_5_cm_s


def _riaa_power(frequency_hz: FloatArray, iec_amendment: bool) -> FloatArray:
    """Power gain of the playback curve, without reference."""
    bass, middle, treble, rumble = (
        (2.0 * np.pi * frequency_hz * seconds) ** 2 for seconds in (_BASS_S, _MIDDLE_S, _TREBLE_S, _RUMBLE_S)
    )
    power: FloatArray = (1.0 + middle) / ((1.0 + bass) * (1.0 + treble))
    return power * rumble / (1.0 + rumble) if iec_amendment else power
