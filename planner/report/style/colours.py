"""Every colour of the program by meaning: warm paper by day, deep neutral by night, one petrol accent."""

from dataclasses import dataclass

from PySide6.QtGui import QColor

__all__ = ["DARK", "LIGHT", "Colours", "contrast", "luminance"]


@dataclass(frozen=True, slots=True)
class Colours:
    """One theme's colours by meaning, as ``#RRGGBB``.

    Text colours (`ink`, `muted`, `accent`, the verdicts) reach a contrast of 4.5:1 on every ground, line
    colours (`edge`, the series) 3:1. `rule` and `grid` are quieter on purpose: they part and repeat, and
    nothing is lost where they are not seen.
    """

    window: str
    surface: str
    raised: str
    ink: str
    muted: str
    edge: str
    rule: str
    grid: str
    accent: str
    on_accent: str
    clears: str
    tight: str
    short: str
    series: tuple[str, ...]

    def pick(self, token: str, alpha: float = 1.0) -> QColor:
        """Look up a colour by a token: a field's name, or ``"series 2"`` counted from 0 and going round.

        Parameters
        ----------
        token : str
            The name of a field above, or "series" and a whole number.
        alpha : float
            Opacity, 0 to 1 [1].

        Raises
        ------
        KeyError
            If there is no such token.

        Examples
        --------
        >>> LIGHT.pick("ink").name()
        '#27231e'
        >>> LIGHT.pick("series 6") == LIGHT.pick("series 0")
        True
        """
        kind, _, number = token.partition(" ")
        if kind == "series":
            name = self.series[int(number or 0) % len(self.series)]
        elif token in Colours.__slots__:
            name = str(getattr(self, token))
        else:
            raise KeyError(token)
        colour = QColor(name)
        colour.setAlphaF(alpha)
        return colour


# The series follow the hues of Okabe and Ito (2008), black last as grey and yellow left out, moved in
# lightness until they stand apart on both grounds and for three kinds of colour blindness; tests hold that.
LIGHT = Colours(
    window="#F3EFE7",
    surface="#FDFBF7",
    raised="#FAF7F1",
    ink="#27231E",
    muted="#655D52",
    edge="#8C8375",
    rule="#DDD6C9",
    grid="#E9E4DA",
    accent="#1E5B66",
    on_accent="#FDFBF7",
    clears="#2B6E45",
    tight="#8A5F00",
    short="#A8352A",
    series=("#15549C", "#AC3A0E", "#3A9057", "#946D8E", "#C1781C", "#4C4841"),
)

DARK = Colours(
    window="#181716",
    surface="#201F1D",
    raised="#2B2927",
    ink="#ECE7DD",
    muted="#A9A296",
    edge="#857E73",
    rule="#393632",
    grid="#302E2A",
    accent="#7FC3CC",
    on_accent="#10201F",
    clears="#7CC493",
    tight="#E0B057",
    short="#F08C7A",
    series=("#3F9AE0", "#D07F3A", "#8FE3A2", "#F2C4E8", "#F6B93B", "#948F87"),
)


def contrast(first: str | QColor, second: str | QColor) -> float:
    """Contrast ratio of two opaque colours, from 1 (alike) to 21 (black on white).

    Parameters
    ----------
    first, second : str or QColor
        The two colours, in any order [1].

    Returns
    -------
    float
        (lighter + 0.05) / (darker + 0.05) of their relative luminances [1].

    References
    ----------
    W3C, Web Content Accessibility Guidelines (WCAG) 2.2, contrast ratio and relative luminance.

    Examples
    --------
    By definition black on white has (1 + 0.05) / (0 + 0.05) = 21.

    >>> print(f"{contrast('#000000', '#FFFFFF'):.1f}")
    21.0
    """
    darker, lighter = sorted((luminance(QColor(first)), luminance(QColor(second))))
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: QColor) -> float:
    """Relative luminance of an opaque colour, 0 for black to 1 for white (WCAG 2.2)."""
    red, green, blue = (_linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)
