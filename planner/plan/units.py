"""Units at the edges: what a person types or reads becomes plain floats in the plan's units, and back.

The text is read by :mod:`planner.plan.quantity_text`; pint converts, and is imported only when a
conversion is first needed. Units are named as the plan names them: "m", "ohm", "degC", "mm2", "".
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any, TypeVar

from planner.plan.quantity_text import KINDS, Piece, TextFault, read, symbols, unit_named

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = [
    "Preference",
    "UnitsError",
    "display_unit",
    "from_display",
    "number_text",
    "parse",
    "show",
    "step_for",
    "to_display",
]

Value = TypeVar("Value", float, "NDArray[np.float64]")


class Preference(Enum):
    """The system of units a person reads and types in; electrical and acoustical units never differ."""

    METRIC = "metric"
    US = "us"


class UnitsError(ValueError):
    """Text that is no quantity of the kind wanted; the message is one sentence for whoever typed it."""


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit of the plan: its kind, pint's name, the label shown, the spin step, and its US stand-in.

    *decimals* is for reading; None means three significant digits without trailing zeros.
    """

    kind: str
    name: str
    label: str
    step: float
    decimals: int | None = None
    us: str = ""


_UNITS = {
    "m": _Unit("length", "meter", "m", 0.05, 2, us="ft"),
    "cm": _Unit("length", "centimeter", "cm", 1.0, us="in"),
    "mm": _Unit("length", "millimeter", "mm", 1.0, us="in"),
    "ft": _Unit("length", "foot", "ft", 0.25, 1),
    "in": _Unit("length", "inch", "in", 0.25),
    "m2": _Unit("area", "meter**2", "m²", 0.5, 1, us="ft2"),
    "ft2": _Unit("area", "foot**2", "ft²", 5.0, 0),
    "mm2": _Unit("section", "millimeter**2", "mm²", 0.5),
    "m3": _Unit("volume", "meter**3", "m³", 1.0, 1, us="ft3"),
    "ft3": _Unit("volume", "foot**3", "ft³", 50.0, 0),
    "m/s": _Unit("speed", "meter/second", "m/s", 1.0, 1, us="ft/s"),
    "cm/s": _Unit("speed", "centimeter/second", "cm/s", 1.0),
    "ft/s": _Unit("speed", "foot/second", "ft/s", 5.0, 0),
    "kg": _Unit("mass", "kilogram", "kg", 0.5, us="lb"),
    "lb": _Unit("mass", "pound", "lb", 1.0),
    "degC": _Unit("temperature", "degC", "°C", 1.0, us="degF"),
    "degF": _Unit("temperature", "degF", "°F", 1.0),
    "kPa": _Unit("pressure", "kilopascal", "kPa", 0.5, 1),
    "s": _Unit("time", "second", "s", 0.05, 2),
    "ms": _Unit("time", "millisecond", "ms", 1.0),
    "h": _Unit("time", "hour", "h", 0.5, 1),
    "Hz": _Unit("frequency", "hertz", "Hz", 10.0),
    "deg": _Unit("angle", "degree", "°", 5.0),
    "W": _Unit("power", "watt", "W", 0.5),
    "V": _Unit("voltage", "volt", "V", 0.1),
    "mV": _Unit("voltage", "millivolt", "mV", 0.1),
    "uV": _Unit("voltage", "microvolt", "µV", 0.1),
    "A": _Unit("current", "ampere", "A", 0.1),
    "mA": _Unit("current", "milliampere", "mA", 1.0),
    "ohm": _Unit("resistance", "ohm", "Ω", 0.5),
    "H": _Unit("inductance", "henry", "H", 0.0001),
    "mH": _Unit("inductance", "millihenry", "mH", 0.1),
    "%": _Unit("share", "percent", "%", 1.0),
    "": _Unit("number", "dimensionless", "", 1.0),
    "dB": _Unit("level", "dB", "dB", 0.5, 1),
    "dBA": _Unit("weighted", "dBA", "dBA", 0.5, 1),
    "dB/octave": _Unit("slope", "dB/octave", "dB/octave", 6.0),
    "AWG": _Unit("gauge", "AWG", "AWG", 1.0),
}

_CHAINS = (
    ("foot", "inch"),
    ("meter", "centimeter", "millimeter"),
    ("pound", "ounce"),
    ("kilogram", "gram"),
    ("hour", "minute", "second"),
)


def parse(text: str, unit: str, preference: Preference = Preference.METRIC) -> float:
    """Read what a person typed for a field, as a float in the field's unit.

    A number without a unit is in the display unit of that field; after feet, in inches.

    Parameters
    ----------
    text : str
        Such as "14 ft 6 in", "4,42 m", "250 mW", "8 ohm", "½ in" [-].
    unit : str
        Unit of the field as the plan names it, and of the result [-].
    preference : Preference
        Which display unit a bare number is in [-].

    Returns
    -------
    float
        The quantity in *unit* [unit].

    Raises
    ------
    UnitsError
        If the text is empty, ambiguous, not finite, or of another kind than the field.
    ValueError
        If the plan has no such *unit*.

    Examples
    --------
    By hand: 14 ft 6 in are 174 in of 0.0254 m, or 4.4196 m.

    >>> parse("14 ft 6 in", "m")
    4.4196
    """
    field, shown = _unit(unit), _shown(unit, preference)
    try:
        return _value(read(text), field, shown)
    except TextFault as fault:
        raise UnitsError(_refusal(text, str(fault), field.kind)) from None


def show(
    value: float, unit: str, preference: Preference = Preference.METRIC, decimals: int | None = None
) -> str:
    """Write a value with its unit for reading; US lengths that the plan holds in metres as feet and inches.

    Parameters
    ----------
    value : float
        The quantity, finite [unit].
    unit : str
        Unit of *value* as the plan names it [-].
    preference : Preference
        Which units to write [-].
    decimals : int, optional
        Decimals, of the inches where there are feet; left out, what suits the unit [-].

    Returns
    -------
    str
        Number and unit with a decimal point, a plain hyphen for minus, no thousands marks [-].

    Raises
    ------
    UnitsError
        If *value* is not finite.
    ValueError
        If the plan has no such *unit*.

    Examples
    --------
    >>> show(4.42, "m"), show(4.4196, "m", Preference.US), show(20.0, "degC", Preference.US)
    ('4.42 m', '14 ft 6.0 in', '68 °F')
    """
    shown = _shown(unit, preference)
    places = shown.decimals if decimals is None else decimals
    if not math.isfinite(value):
        raise UnitsError(f"only a finite number can be shown, not {value}")
    if shown.name == "foot":
        return _feet_and_inches(_convert(value, _unit(unit).name, "inch"), places or 0)
    number = _digits(to_display(value, unit, preference), places)
    return f"{number}{shown.label}" if shown.label == "°" else f"{number} {shown.label}".rstrip()


def number_text(value: float, unit: str, preference: Preference = Preference.METRIC) -> str:
    """The display number alone, in full, for editing; its unit is :func:`display_unit`.

    Exact where display unit and plan unit are one, else to twelve significant digits.

    Examples
    --------
    >>> number_text(4.4196, "m", Preference.US), number_text(0.1, "m"), number_text(8.0, "ohm")
    ('14.5', '0.1', '8')
    """
    if _unit(unit) is _shown(unit, preference):
        return repr(float(value) + 0.0).removesuffix(".0")
    return f"{to_display(value, unit, preference):.12g}"


def display_unit(unit: str, preference: Preference = Preference.METRIC) -> str:
    """The unit label that a person reads beside a number of this plan unit.

    Examples
    --------
    >>> display_unit("m", Preference.US), display_unit("ohm"), display_unit("degC"), display_unit("")
    ('ft', 'Ω', '°C', '')
    """
    return _shown(unit, preference).label


def to_display(value: Value, unit: str, preference: Preference = Preference.METRIC) -> Value:
    """From the plan's unit to the display unit; broadcasts over arrays, for the axes of charts.

    Examples
    --------
    >>> to_display(4.4196, "m", Preference.US)
    14.5
    """
    return _convert(value, _unit(unit).name, _shown(unit, preference).name)


def from_display(value: Value, unit: str, preference: Preference = Preference.METRIC) -> Value:
    """From the display unit to the plan's unit; broadcasts over arrays.

    Examples
    --------
    >>> from_display(68.0, "degC", Preference.US)
    20.0
    """
    return _convert(value, _shown(unit, preference).name, _unit(unit).name)


def step_for(unit: str, preference: Preference = Preference.METRIC) -> float:
    """A sensible step of a spin box, in the display unit; 1 for plain numbers, be they counts or ratios.

    Examples
    --------
    >>> step_for("m"), step_for("m", Preference.US), step_for("dB")
    (0.05, 0.25, 0.5)
    """
    return _shown(unit, preference).step


def _unit(unit: str) -> _Unit:
    if unit not in _UNITS:
        raise ValueError(f"unit must be one of {', '.join(filter(None, _UNITS))} or empty, got {unit!r}")
    return _UNITS[unit]


def _shown(unit: str, preference: Preference) -> _Unit:
    here = _unit(unit)
    return _UNITS[here.us] if preference is Preference.US and here.us else here


def _value(pieces: Sequence[Piece], field: _Unit, shown: _Unit) -> float:
    names: list[str] = []
    for piece in pieces:
        if piece.word:
            names.append(unit_named(piece.word, field.kind))
        elif names and names[-1] != "foot":
            raise TextFault("ends in a number without its unit")
        else:
            names.append("inch" if names else shown.name)
    _refuse_disorder(pieces, names)
    finest = names[-1]
    total = sum(_convert(piece.number, name, finest) for piece, name in zip(pieces, names, strict=True))
    value = _convert(total, finest, field.name) + 0.0
    if not math.isfinite(value):
        raise TextFault("is too large a number")
    return value


def _refuse_disorder(pieces: Sequence[Piece], names: Sequence[str]) -> None:
    """See that pieces belong together: 14 ft 6 in, but not 6 in 14 ft, 14.5 ft 6 in or 14 ft 18 in."""
    for (upper, above), (lower, below) in pairwise(zip(pieces, names, strict=True)):
        if not any(above in chain[:-1] and below in chain[chain.index(above) + 1 :] for chain in _CHAINS):
            raise TextFault(f"has “{lower.word}” after “{upper.word}”, which do not belong together so")
        if not upper.number.is_integer():
            raise TextFault(f"has a part of one {above} before a smaller unit")
        if abs(lower.number) >= _convert(1.0, above, below):
            raise TextFault(
                f"has {abs(lower.number):g} {below} after the {above}, enough for another {above}"
            )


def _refusal(text: str, fault: str, kind: str) -> str:
    noun, example = KINDS[kind]
    known = f" in {', '.join(symbols(kind))}" if kind != "number" else ""
    typed = " ".join(text.split())
    typed = f"{typed[:40]}…" if len(typed) > 40 else typed
    return f"“{typed}” {fault}; expected {noun}{known}, for example {example}"


def _digits(number: float, decimals: int | None) -> str:
    """The number in plain digits, to three significant ones without trailing zeros if *decimals* is None."""
    places = decimals
    if places is None:
        places = min(max(2 - math.floor(math.log10(abs(number))), 0), 12) if number else 0
    text = f"{number:.{places}f}"
    if decimals is None and places:
        text = text.rstrip("0").rstrip(".")
    return text.removeprefix("-") if float(text) == 0.0 else text


def _feet_and_inches(inches: float, decimals: int) -> str:
    """Rounded before it is split, so that 71.96 in are 6 ft 0.0 in and never 5 ft 12.0 in."""
    parts = 10**decimals
    feet, rest = divmod(round(abs(inches) * parts), 12 * parts)
    sign = "-" if inches < 0 and (feet or rest) else ""
    small = f"{rest / parts:.{decimals}f} in"
    return f"{sign}{feet} ft {small}" if feet else f"{sign}{small}"


def _convert(value: Value, source: str, target: str) -> Value:
    if source == target:
        return value
    slope, offset, divisor = _line(source, target)
    return (value * slope + offset) / divisor


@cache
def _line(source: str, target: str) -> tuple[float, float, float]:
    """Whole numbers a, b, c with (a·value + b)/c the conversion: 14.5 ft are 4.4196 m to the last digit."""
    registry = _registry()
    offset = registry.convert(Fraction(0), source, target)
    slope = registry.convert(Fraction(1), source, target) - offset
    divisor = math.lcm(slope.denominator, offset.denominator)
    return float(slope * divisor), float(offset * divisor), float(divisor)


@cache
def _registry() -> Any:
    import pint  # here, because it takes a third of a second and most sessions never need it

    return pint.UnitRegistry(non_int_type=Fraction)
