"""Numbers as the charts show them: in the reader's locale, with a true minus and a unit that reads well."""

import math

from PySide6.QtCore import QLocale

__all__ = [
    "band_text",
    "figure",
    "frequency_text",
    "nominal_hz",
    "short_frequency_text",
    "significant",
    "watts_text",
]

PREFERRED = (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0)
NOTHING = "–"


def figure(value: float, decimals: int) -> str:
    """Write a number with fixed decimals, no thousands mark, and a dash where there is no number.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> figure(-3.14159, 2)
    '−3.14'
    >>> figure(-0.01, 1)
    '0.0'
    """
    if not math.isfinite(value):
        return NOTHING
    locale = QLocale()
    locale.setNumberOptions(QLocale.NumberOption.OmitGroupSeparator)
    rounded = round(value, decimals) + 0.0
    return locale.toString(rounded, "f", decimals).replace("-", "−")


def significant(value: float, digits: int = 3) -> str:
    """Write a number with so many significant digits, and no idle noughts behind the decimal mark.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> significant(1234.5), significant(0.12345), significant(2.5), significant(0.0)
    ('1230', '0.123', '2.5', '0')
    """
    if not math.isfinite(value):
        return NOTHING
    if value == 0.0:
        return figure(0.0, 0)
    rounded = float(f"{value:.{digits - 1}e}")
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(rounded))))
    shortest = f"{rounded:.{decimals}f}"
    return figure(rounded, len(shortest.rstrip("0").partition(".")[2]))


def frequency_text(frequency_hz: float) -> str:
    """Write a frequency in Hz or, from 1000 Hz, in kHz.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> frequency_text(31.5), frequency_text(1250.0)
    ('31.5 Hz', '1.25 kHz')
    """
    if frequency_hz >= 1000.0:
        return f"{significant(frequency_hz / 1000.0)} kHz"
    return f"{significant(frequency_hz)} Hz"


def short_frequency_text(frequency_hz: float) -> str:
    """Write a frequency as an axis does, its unit said elsewhere: 31.5, 500, 1k.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> short_frequency_text(31.5), short_frequency_text(16000.0)
    ('31.5', '16k')
    """
    return f"{significant(frequency_hz / 1000.0)}k" if frequency_hz >= 1000.0 else significant(frequency_hz)


def band_text(frequency_hz: float) -> str:
    """Write a third-octave band by the nominal frequency that people know it by.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> band_text(1258.925)
    '1.25 kHz'
    """
    return frequency_text(nominal_hz(frequency_hz))


def nominal_hz(frequency_hz: float) -> float:
    """Nominal frequency of the third-octave band whose exact mid frequency lies nearest.

    Parameters
    ----------
    frequency_hz : float
        Above 0 [Hz].

    Returns
    -------
    float
        A preferred number of the series of ten to a decade [Hz].

    Raises
    ------
    ValueError
        If the frequency is not above 0.

    References
    ----------
    IEC 61260-1:2014, annex E; the preferred numbers of ISO 266.

    Examples
    --------
    The band of 10^(27/10) = 501.2 Hz is called 500 Hz, that of 10^(15/10) = 31.62 Hz 31.5 Hz.

    >>> nominal_hz(501.2), nominal_hz(31.62)
    (500.0, 31.5)
    """
    decade, place = divmod(round(10.0 * math.log10(frequency_hz)), len(PREFERRED))
    return round(PREFERRED[place] * 10.0**decade, 6)


def watts_text(power_w: float) -> str:
    """Write a power in mW, W or kW, whichever keeps it from 1 to 1000.

    Examples
    --------
    >>> QLocale.setDefault(QLocale.c())
    >>> watts_text(0.02), watts_text(2.5), watts_text(1200.0)
    ('20 mW', '2.5 W', '1.2 kW')
    """
    if power_w >= 999.5:
        return f"{significant(power_w / 1000.0)} kW"
    if power_w >= 0.9995 or power_w == 0.0:
        return f"{significant(power_w)} W"
    return f"{significant(power_w * 1000.0)} mW"
