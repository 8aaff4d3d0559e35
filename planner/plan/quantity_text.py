"""Our own small grammar for typed quantities, and the unit words it knows: text in, numbers with units out.

What it reads: an optional sign, then one or more numbers, each with its unit word. A number is plain
("4.42", "4,42", "1e-3"), grouped by spaces ("1 234,5"), a fraction ("1/2", "½") or mixed ("14 1/2", "5-1/2").

* Dot and comma are both decimal marks, never thousands marks. A comma before exactly three digits
  ("1,234") might be either, and two different marks ("1.234,5") might be anything: both are refused.
* Thousands are parted by spaces only (plain, thin, narrow or no-break), in groups of exactly three.
* Between two pieces may stand nothing, a space, a plus, a comma with a space, or the hyphen of 14'-6".
  A minus may stand at the front alone, and then holds for the whole.
* Words are known by kind of quantity, in any case of letters, except that M never stands for milli.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import NamedTuple

__all__ = ["KINDS", "Kind", "Piece", "TextFault", "read", "symbols", "unit_named"]

LONGEST_TEXT = 60
_SIGN = re.compile(r"([-+\u2212\u2013]?)\s*")
_GAP = r"[ \u00a0\u2007\u2009\u202f]"
_NUMBER = rf"""(?:
    (?:(?P<whole>[0-9]+)(?:{_GAP}+|-))?(?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+)
  | (?P<grouped>[1-9][0-9]{{0,2}}(?:{_GAP}[0-9]{{3}})+(?:[.,][0-9]*)?)(?![0-9.,])
  | (?P<run>[.,]*[0-9][0-9.,]*)(?P<exponent>[eE][-+\u2212]?[0-9]+)?
)"""
# A digit belongs to a word only as an exponent ("m2"), never where it may open the next number.
_EXPONENT = r"(?<=[A-Za-z^])[23](?![0-9A-Za-z.,/])"
_ATOM = rf"""(?:[A-Za-zµΩ°%'"/()@^²³]|\.(?![0-9])|{_EXPONENT})+"""
_WORD = rf"(?P<word>{_ATOM}(?:\ +{_ATOM})*)?"
_PIECE = re.compile(rf"{_NUMBER}\s*{_WORD}", re.VERBOSE)
_NEXT_PIECE = re.compile(rf"(?:\s*\+\s*|,\s+|-|\s*){_NUMBER}\s*{_WORD}", re.VERBOSE)
_MAYBE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_NOT_FINITE = re.compile(r"nan|inf(inity)?|\u221e", re.IGNORECASE)

_SAME_SIGN = str.maketrans(
    {
        "\u2018": "'",
        "\u2019": "'",
        "\u2032": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u2033": '"',
        "\u2126": "Ω",
        "\u03bc": "µ",
        "\u212a": "K",
        "\u2103": "°C",
        "\u2109": "°F",
        "\u2010": "-",
        "\u2011": "-",
        "\u2044": "/",
    }
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_ONE_SIGN_FRACTION = re.compile(rf"([0-9]?)([{''.join(_VULGAR)}])")


class TextFault(ValueError):
    """The text is no quantity; the message says why as the rest of a sentence, such as "is empty"."""


class Kind(NamedTuple):
    """A kind of quantity in words: its noun, and an example of it typed."""

    noun: str
    example: str


class Piece(NamedTuple):
    """One number and the unit word behind it, which is empty where none was typed."""

    number: float
    word: str


# Kind, pint's name of the unit, spellings: the first is the one named in refusals, "_" stands for a space.
_ROWS = [
    line.split()
    for line in """
length       meter             m metre metres meter meters
length       centimeter        cm centimetre centimetres centimeter centimeters
length       millimeter        mm millimetre millimetres millimeter millimeters
length       foot              ft foot feet '
length       inch              in inch inches "
length       yard              yd yard yards
area         meter**2          m2 sq_m square_metre square_metres square_meter square_meters
area         centimeter**2     cm2 sq_cm
area         foot**2           ft2 sq_ft sqft square_foot square_feet
area         inch**2           in2 sq_in square_inch square_inches
section      millimeter**2     mm2 sq_mm
volume       meter**3          m3 cu_m cubic_metres cubic_meters
volume       liter             l litre litres liter liters
volume       foot**3           ft3 cu_ft cubic_feet
speed        meter/second      m/s
speed        foot/second       ft/s
speed        centimeter/second  cm/s
mass         kilogram          kg kilogram kilograms
mass         gram              g gram grams
mass         pound             lb lbs pound pounds
mass         ounce             oz ounce ounces
temperature  degC              °C C degC deg_C degrees_C celsius
temperature  degF              °F F degF deg_F degrees_F fahrenheit
temperature  kelvin            K kelvin
pressure     kilopascal        kPa
pressure     hectopascal       hPa
pressure     pascal            Pa
pressure     millibar          mbar
pressure     millimeter_Hg     mmHg
pressure     inch_Hg           inHg
time         second            s sec second seconds
time         millisecond       ms millisecond milliseconds
time         minute            min minute minutes
time         hour              h hour hours
frequency    hertz             Hz
frequency    kilohertz         kHz
angle        degree            ° deg degree degrees
power        watt              W watt watts
power        milliwatt         mW milliwatt milliwatts
power        kilowatt          kW kilowatt kilowatts
voltage      volt              V volt volts
voltage      millivolt         mV millivolt millivolts
voltage      microvolt         µV uV microvolt microvolts
voltage      kilovolt          kV
current      ampere            A amp amps ampere amperes
current      milliampere       mA
resistance   ohm               Ω ohm ohms
resistance   milliohm          mΩ mohm milliohm milliohms
resistance   kiloohm           kΩ kohm kiloohm kiloohms
inductance   henry             H henry
inductance   millihenry        mH
inductance   microhenry        µH uH
share        percent           % percent pct
number       percent           %
level        dB                dB decibel decibels
weighted     dBA               dBA dB(A) dB_A
slope        dB/octave         dB/octave dB/oct dB
gauge        AWG               AWG gauge
""".strip().splitlines()
]

KINDS = {
    "length": Kind("a length", "4.42 m or 14 ft 6 in"),
    "area": Kind("an area", "12.5 m2 or 135 ft2"),
    "section": Kind("a conductor area", "2.5 mm2"),
    "volume": Kind("a volume", "60 m3 or 2100 ft3"),
    "speed": Kind("a speed", "343 m/s"),
    "mass": Kind("a mass", "12.5 kg or 27 lb 9 oz"),
    "temperature": Kind("a temperature", "20 °C or 68 °F"),
    "pressure": Kind("a pressure", "101.3 kPa"),
    "time": Kind("a time", "0.52 s or 20 ms"),
    "frequency": Kind("a frequency", "500 Hz or 1.6 kHz"),
    "angle": Kind("an angle", "30°"),
    "power": Kind("a power", "2.5 W or 250 mW"),
    "voltage": Kind("a voltage", "2.83 V or 5 mV"),
    "current": Kind("a current", "1.5 A"),
    "resistance": Kind("a resistance", "8 ohm or 8 Ω"),
    "inductance": Kind("an inductance", "0.5 mH"),
    "share": Kind("a percentage", "45 %"),
    "number": Kind("a plain number", "4 or 0.5"),
    "level": Kind("a level or gain", "3 dB"),
    "weighted": Kind("an A-weighted level", "30 dBA"),
    "slope": Kind("a slope", "24 dB/octave"),
    "gauge": Kind("a wire gauge", "14 AWG"),
}

_WEIGHTED = "is {}-weighted, which the value wanted is not"
_MORE_THAN_A_LEVEL = "states a drive or a distance too, which the plan keeps apart from the level"
# What a word that opens like this means, where the kind wanted does not know it.
_OTHER_DECIBELS = {
    "dba": _WEIGHTED.format("A"),
    "db(a": _WEIGHTED.format("A"),
    "dbc": _WEIGHTED.format("C"),
    "db(c": _WEIGHTED.format("C"),
    "dbu": "is in dBu, a voltage level re 0.775 V",
    "dbv": "is in dBV, a voltage level re 1 V",
    "dbw": "is in dBW, a power level re 1 W",
    "dbm": "is in dBm, a power level re 1 mW",
    "dbfs": "is in dBFS, a level re digital full scale",
    "db/o": "is a slope",
    "db/": _MORE_THAN_A_LEVEL,
    "db @": _MORE_THAN_A_LEVEL,
    "db (": _MORE_THAN_A_LEVEL,
}


def read(text: str) -> tuple[Piece, ...]:
    """Read a typed quantity as numbers with their unit words; a minus in front holds for all of them.

    Raises
    ------
    TextFault
        If the text is empty, too long, ambiguous, not finite, or no quantity at all.

    Examples
    --------
    >>> read("14 ft 6 1/2 in")
    (Piece(number=14.0, word='ft'), Piece(number=6.5, word='in'))
    """
    typed = _one_sign_each(text)
    sign = _SIGN.match(typed)
    place = sign.end() if sign else 0
    factor = -1.0 if typed[:1] in ("-", "\u2212", "\u2013") else 1.0
    pieces: list[Piece] = []
    while place < len(typed) or not pieces:
        match = (_NEXT_PIECE if pieces else _PIECE).match(typed, place)
        if match is None:
            raise TextFault(_no_number(typed[place:], first=not pieces))
        if pieces and not pieces[-1].word:
            raise TextFault("has two numbers with no unit between them")
        pieces.append(Piece(factor * _number(match), _word(match["word"])))
        place = match.end()
    return tuple(pieces)


def _one_sign_each(text: str) -> str:
    """The text with one sign for each meaning, so that the grammar need know no others."""
    typed = text.strip()
    if not typed:
        raise TextFault("is empty")
    if len(typed) > LONGEST_TEXT:
        raise TextFault(f"is longer than {LONGEST_TEXT} characters")
    typed = typed.translate(_SAME_SIGN).replace("''", '"')
    return _ONE_SIGN_FRACTION.sub(_spelled_fraction, typed).strip()


def _spelled_fraction(match: re.Match[str]) -> str:
    before = f"{match[1]} " if match[1] else ""
    return f"{before}{_VULGAR[match[2]]} "


def _no_number(rest: str, first: bool) -> str:
    if _NOT_FINITE.match(rest):
        return "is not a finite number"
    if not rest:
        return "holds no number"
    return f"has no number before “{rest}”" if first else f"has “{rest}” left over"


def _word(word: str | None) -> str:
    """The unit word in its plainest spelling: "ft." as ft, "m²" and "m^2" as m2, one space at most."""
    plain = (word or "").replace("²", "2").replace("³", "3")
    return " ".join(plain.replace("^", "").replace(".", "").split())


def _number(match: re.Match[str]) -> float:
    if match["bottom"]:
        value = _fraction(match["whole"], match["top"], match["bottom"])
    elif match["grouped"]:
        value = float("".join(match["grouped"].split()).replace(",", "."))
    else:
        exponent = (match["exponent"] or "").replace("\u2212", "-")
        value = float(_with_one_dot(match["run"]) + exponent)
    if not math.isfinite(value):
        raise TextFault("is too large a number")
    return value


def _fraction(whole: str | None, top: str, bottom: str) -> float:
    over, under = float(top), float(bottom)
    if under == 0.0:
        raise TextFault("divides by zero")
    if whole and over >= under:
        raise TextFault(f"has the fraction {top}/{bottom} behind a whole number, but it is not below one")
    return float(whole or 0) + over / under


def _with_one_dot(run: str) -> str:
    """Digits with at most one decimal dot, or a refusal that shows how else they might be meant."""
    marks = [sign for sign in run if sign in ".,"]
    if len(set(marks)) == 2:
        last = max(run.rfind("."), run.rfind(","))
        grouped = re.sub("[.,]", "", run[:last]) + "." + run[last + 1 :]
        first, _, rest = run.replace(",", ".").partition(".")
        raise TextFault(f"could mean {grouped} or {first}.{rest.replace('.', '')}")
    if len(marks) > 1:
        raise TextFault("has more than one decimal mark")
    if _MAYBE_THOUSANDS.fullmatch(run):
        raise TextFault(f"could mean {run.replace(',', '.')} or {run.replace(',', '')}")
    return run.replace(",", ".")


def symbols(kind: str) -> list[str]:
    """The units known of a kind of quantity, each in its first spelling.

    Examples
    --------
    >>> symbols("power")
    ['W', 'mW', 'kW']
    """
    return [words[0] for of, _, *words in _ROWS if of == kind]


def unit_named(word: str, kind: str) -> str:
    """pint's name of the unit that a word means, among those that measure the *kind* wanted.

    Raises
    ------
    TextFault
        If the word means no such unit.

    Examples
    --------
    >>> unit_named("inches", "length")
    'inch'
    """
    known = _spellings(kind)
    name = known.get(word) or _small(kind).get(word.casefold())
    if name is None:
        raise TextFault(_strange(word))
    if word.startswith("M") and name.startswith("milli") and not word.casefold().startswith("milli"):
        raise TextFault("has a capital M, which means mega and not milli")
    return name


@cache
def _spellings(kind: str) -> dict[str, str]:
    return {word.replace("_", " "): name for of, name, *words in _ROWS if of == kind for word in words}


@cache
def _small(kind: str) -> dict[str, str]:
    return {word.casefold(): name for word, name in _spellings(kind).items()}


def _strange(word: str) -> str:
    """What a word means that the kind wanted does not know."""
    for opening, meaning in _OTHER_DECIBELS.items():
        if word.casefold().startswith(opening):
            return meaning
    for kind, words in KINDS.items():
        if word in _spellings(kind):
            return f"is {words.noun}"
    return f"has the unit “{word}”, which is not known here"
