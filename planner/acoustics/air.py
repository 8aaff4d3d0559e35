"""Air: speed of sound, density, and the sound it swallows on the way."""

from math import log

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["attenuation", "density", "energy_attenuation", "speed_of_sound"]

ZERO_CELSIUS_K = 273.15
REFERENCE_K = 293.15  # 20 degrees Celsius, T0 of ISO 9613-1
TRIPLE_POINT_K = 273.16
REFERENCE_PRESSURE_KPA = 101.325
DB_PER_NEPER = 10.0 / log(10.0)  # 4.343, of energy
GAS_CONSTANT_DRY_AIR = 287.05  # J/(kg K)


def speed_of_sound(temperature_c: ArrayLike) -> FloatArray:
    """Speed of sound in air.

    c = 343.2 sqrt(T / 293.15 K) m/s.

    Parameters
    ----------
    temperature_c : float or array
        Air temperature, meant for -20 to 50 degrees, above absolute zero [degC].

    Returns
    -------
    float or array
        Speed, in the shape of `temperature_c`; 0.2 % below moist air's at 20 degrees and 50 % humidity [m/s].

    Raises
    ------
    ValueError
        If a temperature is not above absolute zero.

    References
    ----------
    ISO 9613-1:1993, annex A.

    Examples
    --------
    By hand: sqrt(273.15 / 293.15) = 0.965285, times 343.2.

    >>> print(f"{speed_of_sound(0.0):.2f} m/s")
    331.29 m/s
    """
    return 343.2 * np.sqrt(_kelvin(temperature_c) / REFERENCE_K)


def density(temperature_c: ArrayLike, pressure_kpa: ArrayLike = REFERENCE_PRESSURE_KPA) -> FloatArray:
    """Density of dry air by the gas law.

    rho = p / (287.05 J/(kg K) T).

    Parameters
    ----------
    temperature_c : float or array
        Air temperature, above absolute zero [degC].
    pressure_kpa : float or array
        Static pressure, above 0 [kPa].

    Returns
    -------
    float or array
        Density, broadcast; at 20 degrees and 50 % humidity real air is 0.4 % lighter [kg/m^3].

    Raises
    ------
    ValueError
        If a pressure is 0 or negative, or a temperature not above absolute zero.

    References
    ----------
    ISO 2533 (standard atmosphere).

    Examples
    --------
    By hand: 101325 / (287.05 x 288.15) at 15 degrees.

    >>> print(f"{density(15.0):.3f} kg/m^3")
    1.225 kg/m^3
    """
    pressure = floats("pressure_kpa", pressure_kpa, above=0.0)
    return 1000.0 * pressure / (GAS_CONSTANT_DRY_AIR * _kelvin(temperature_c))


def attenuation(
    frequency_hz: ArrayLike,
    temperature_c: ArrayLike,
    humidity_pct: ArrayLike,
    pressure_kpa: ArrayLike = REFERENCE_PRESSURE_KPA,
) -> FloatArray:
    """Sound that air absorbs per metre of path, for a pure tone.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, 0 or more; tables of the standard are for exact mid frequencies [Hz].
    temperature_c : float or array
        Air temperature; the standard covers -20 to 50 degrees [degC].
    humidity_pct : float or array
        Relative humidity, 0 to 100 [percent].
    pressure_kpa : float or array
        Static pressure, above 0; the standard goes up to 200 kPa [kPa].

    Returns
    -------
    float or array
        Attenuation, broadcast over all four; stated by the standard to within 10 % [dB/m].

    Raises
    ------
    ValueError
        If an argument lies outside the limits above (a temperature: not above absolute zero).

    References
    ----------
    ISO 9613-1:1993, equations (3) to (5) and annex B.

    Examples
    --------
    Table 1 of the standard prints 9.86 dB/km at 20 degrees, 50 % and the 2 kHz band.

    >>> print(f"{1000 * attenuation(1995.262, 20.0, 50.0):.2f} dB/km")
    9.86 dB/km
    """
    frequency = floats("frequency_hz", frequency_hz, at_least=0.0)
    humidity = floats("humidity_pct", humidity_pct, at_least=0.0, at_most=100.0)
    kelvin = _kelvin(temperature_c)
    pressure = floats("pressure_kpa", pressure_kpa, above=0.0) / REFERENCE_PRESSURE_KPA
    heat = kelvin / REFERENCE_K
    water_pct = _water_share_pct(kelvin, humidity, pressure)
    oxygen_hz = pressure * (24.0 + 4.04e4 * water_pct * (0.02 + water_pct) / (0.391 + water_pct))
    relaxing = 9.0 + 280.0 * water_pct * np.exp(-4.170 * (heat ** (-1.0 / 3.0) - 1.0))
    nitrogen_hz = pressure / np.sqrt(heat) * relaxing
    oxygen = 0.01275 * np.exp(-2239.1 / kelvin) / (oxygen_hz + frequency**2 / oxygen_hz)
    nitrogen = 0.1068 * np.exp(-3352.0 / kelvin) / (nitrogen_hz + frequency**2 / nitrogen_hz)
    classical = 1.84e-11 / pressure * np.sqrt(heat)
    db_per_m: FloatArray = 8.686 * frequency**2 * (classical + heat**-2.5 * (oxygen + nitrogen))
    return db_per_m


def energy_attenuation(db_per_m: ArrayLike) -> FloatArray:
    """Energy attenuation m of air, as reverberation formulas want it.

    m = a / (10 log10 e) = a / 4.343.

    Parameters
    ----------
    db_per_m : float or array
        Attenuation a, 0 or more [dB/m].

    Returns
    -------
    float or array
        m, in the shape of `db_per_m` [1/m].

    Raises
    ------
    ValueError
        If an attenuation is negative.

    References
    ----------
    ISO 354, equation for m.

    Examples
    --------
    By hand: 0.1 / 4.343.

    >>> print(f"{energy_attenuation(0.1):.5f} 1/m")
    0.02303 1/m
    """
    decibels = floats("db_per_m", db_per_m, at_least=0.0)
    return decibels / DB_PER_NEPER


def _kelvin(temperature_c: ArrayLike) -> FloatArray:
    return floats("temperature_c", temperature_c, above=-ZERO_CELSIUS_K) + ZERO_CELSIUS_K


def _water_share_pct(kelvin: FloatArray, humidity_pct: FloatArray, pressure_ratio: FloatArray) -> FloatArray:
    """Molar concentration of water vapour, ISO 9613-1 annex B."""
    saturation: FloatArray = 10.0 ** (4.6151 - 6.8346 * (TRIPLE_POINT_K / kelvin) ** 1.261)
    return humidity_pct * saturation / pressure_ratio
