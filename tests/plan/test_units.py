"""Quantities as people type and read them: the grammar, the conversions, and what is refused.

Conversion factors are those of NIST SP 811, appendix B.8 (from memory): foot 0.3048 m, inch 25.4 mm, yard
0.9144 m, square foot 0.092 903 04 m², pound 0.453 592 37 kg, ounce 1/16 pound, °C = (°F - 32)/1.8, kelvin
°C + 273.15, inch of mercury 3.386 389 kPa. How a text should be read is common practice, no published source.
"""

import re
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.plan.fields import Part, spec_of
from planner.plan.quantity_text import KINDS, Piece, TextFault, read, symbols
from planner.plan.units import (
    Preference,
    UnitsError,
    display_unit,
    from_display,
    number_text,
    parse,
    show,
    step_for,
    to_display,
)

METRIC, US = Preference.METRIC, Preference.US
CONVERTED = ["m", "cm", "mm", "m2", "m3", "m/s", "degC", "kg"]
ELECTRICAL = ["W", "V", "mV", "uV", "A", "ohm", "H", "mH", "mm2", "AWG"]
ALIKE = [*ELECTRICAL, "dB", "dBA", "dB/octave", "Hz", "s", "ms", "h", "deg", "kPa", "%", ""]

units = st.sampled_from(CONVERTED + ALIKE)
preferences = st.sampled_from(Preference)
room_sized = st.floats(-1e4, 1e4)


# Beside each row, as measured, what pint 0.25.3 with autoconvert_offset_to_baseunit makes of the same text.
@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        pytest.param("3.2 m", "m", 3.2, id="pint reads it so too: 3.2 m"),
        pytest.param("250 W", "W", 250.0, id="pint reads it so too: 250 W"),
        pytest.param("0.25 kW", "W", 250.0, id="pint reads it so too: 0.25 kW"),
        pytest.param("4 Ω", "ohm", 4.0, id="pint reads it so too: 4 Ω"),
        pytest.param("2.83 V", "V", 2.83, id="pint reads it so too: 2.83 V"),
        pytest.param("20 °C", "degC", 20.0, id="pint reads it so too: 20 °C"),
        pytest.param("45 %", "%", 45.0, id="pint reads it so too: 45 %"),
        pytest.param("1/2 in", "m", 0.0127, id="pint reads it so too: 1/2 in"),
        pytest.param("1 m²", "m2", 1.0, id="pint reads it so too: 1 m²"),
        pytest.param("14 ft + 6 in", "m", 4.4196, id="pint reads it so too: 14 ft + 6 in"),
        pytest.param("14 ft 6 in", "m", 4.4196, id="pint: 84 ft·in"),
        pytest.param("14' 6\"", "m", 4.4196, id="pint: 84 and no unit"),
        pytest.param("6′ 2″", "m", 1.8796, id="pint: 12 and no unit"),
        pytest.param("3 m 20 cm", "m", 3.2, id="pint: 60 m·cm"),
        pytest.param("3,2 m", "m", 3.2, id="pint: 32 m"),
        pytest.param("14½ ft", "m", 4.4196, id="pint: 14 ft"),
        pytest.param("−3 dB", "dB", -3.0, id="pint: +3 dB"),
    ],
)
def test_that_text_which_pint_alone_may_misread_is_read_as_meant(typed, unit, value):
    assert parse(typed, unit) == value


@pytest.mark.parametrize(
    ("typed", "unit", "fault"),
    [
        pytest.param("3,200 mm", "mm", "could mean 3.200 or 3200;", id="pint: 3200"),
        pytest.param("1.234,5 mm", "mm", "could mean 1234.5 or 1.2345;", id="pint: 1.2345"),
        pytest.param("1,234", "m", "could mean 1.234 or 1234;", id="pint: 1234"),
        pytest.param("86 dB/W/m", "dB", "states a drive or a distance too", id="pint: 3.98e8 /W/m"),
        pytest.param("83 dBA", "dB", "is A-weighted", id="pint: UndefinedUnitError"),
        pytest.param("12 dBu", "dB", "re 0.775 V", id="pint: decibel times microwatt"),
        pytest.param("3.2e500 m", "m", "is too large a number", id="pint: inf"),
        pytest.param("", "m", "is empty", id="pint: 1"),
        pytest.param("m", "m", "has no number", id="pint: 1 m"),
        pytest.param("3 parsec", "m", "the unit “parsec”, which is not known", id="pint: accepted"),
    ],
)
def test_that_text_which_pint_alone_takes_for_a_number_is_refused(typed, unit, fault):
    with pytest.raises(UnitsError) as caught:
        parse(typed, unit)
    assert fault in str(caught.value)


@pytest.mark.parametrize(
    "typed",
    [
        "14 ft 6 in",
        "14' 6\"",
        "14′ 6″",
        "14’ 6”",
        "14' 6''",
        "14'6",
        "14 ft 6",
        "14ft6in",
        "14 ft, 6 in",
        "14 ft. 6 in.",
        "14 FEET 6 INCHES",
        "14'-6\"",
        "14 ft-6 in",
        "14.5 ft",
        "14,5'",
        "14 1/2 ft",
        "14-1/2 ft",
        "14½ ft",
        "14 ½'",
        "174 in",
        " 14\u00a0ft\u202f6 in ",
    ],
)
def test_that_all_usual_forms_of_fourteen_and_a_half_feet_mean_the_same_length(typed):
    assert parse(typed, "m") == 4.4196


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("5-1/2 in", "mm", 139.7),
        ("5½ in", "mm", 139.7),
        ("½ in", "mm", 12.7),
        ("¾ in", "mm", 19.05),
        ("14' 6 1/2\"", "in", 174.5),
        ("14'2", "in", 170.0),
        ("2 yd", "m", 1.8288),
        ("3 m 20 cm 5 mm", "m", 3.205),
        ("120 mm", "m", 0.12),
        ("10 ft2", "m2", 0.9290304),
        ("10 sq ft", "m2", 0.9290304),
        ("1 m^2", "m2", 1.0),
        ("2.5 mm²", "mm2", 2.5),
        ("1000 l", "m3", 1.0),
        ("68 °F", "degC", 20.0),
        ("-40F", "degC", -40.0),
        ("293.15 K", "degC", 20.0),
        ("20 ℃", "degC", 20.0),
        ("1 lb", "kg", 0.45359237),
        ("1 lb 8 oz", "kg", 0.680388555),
        ("1 inHg", "kPa", pytest.approx(3.386389, rel=1e-6)),
        ("1013.25 hPa", "kPa", 101.325),
        ("250 mW", "W", 0.25),
        ("250 mw", "W", 0.25),
        ("5 mV", "V", 0.005),
        ("30 \u00b5V", "mV", 0.03),
        ("30 \u03bcV", "mV", 0.03),
        ("30 uV", "mV", 0.03),
        ("1.6 kHz", "Hz", 1600.0),
        ("1.6 KHZ", "Hz", 1600.0),
        ("20 ms", "s", 0.02),
        ("1 h 30 min", "h", 1.5),
        ("8 \u03a9", "ohm", 8.0),
        ("8 \u2126", "ohm", 8.0),
        ("8 Ohms", "ohm", 8.0),
        ("47 kΩ", "ohm", 47000.0),
        ("50 mΩ", "ohm", 0.05),
        ("0.5 mH", "H", 0.0005),
        ("150 mA", "A", 0.15),
        ("30°", "deg", 30.0),
        ("50 %", "", 0.5),
        ("1/2", "", 0.5),
        ("30 dB(A)", "dBA", 30.0),
        ("24 dB/oct", "dB/octave", 24.0),
        ("14 AWG", "AWG", 14.0),
    ],
)
def test_that_unit_words_mean_what_the_tables_of_units_say(typed, unit, value):
    assert parse(typed, unit) == value


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        pytest.param("4,42", 4.42, id="decimal comma"),
        pytest.param("4.42", 4.42, id="decimal point"),
        pytest.param("1.234", 1.234, id="a point is never a thousands mark"),
        pytest.param("0,123", 0.123, id="no thousands begin with nought"),
        pytest.param("1234,567", 1234.567, id="four digits before it are no group"),
        pytest.param("1,2345", 1.2345, id="four digits after it are no group"),
        pytest.param(",5", 0.5, id="nothing before the mark"),
        pytest.param("5.", 5.0, id="nothing after the mark"),
        pytest.param("1 234,5", 1234.5, id="plain space between thousands"),
        pytest.param("1\u2009234,5", 1234.5, id="thin space between thousands"),
        pytest.param("1\u202f234\u202f567", 1234567.0, id="narrow no-break space between thousands"),
        pytest.param("1\u00a0234,567", 1234.567, id="beside grouping spaces a comma is decimal"),
        pytest.param("2e-3", 0.002, id="exponent"),
        pytest.param("2E\u22123", 0.002, id="exponent with a true minus"),
        pytest.param("-1.5", -1.5, id="hyphen for minus"),
        pytest.param("\u22121.5", -1.5, id="true minus"),
        pytest.param("\u2013 1,5", -1.5, id="en dash for minus"),
        pytest.param("+1.5", 1.5, id="plus"),
        pytest.param("-5 ft 6 in", -1.6764, id="a minus holds for feet and inches alike"),
        pytest.param("-½", -0.5, id="minus before a fraction"),
    ],
)
def test_that_numbers_in_other_hands_are_read_as_meant(typed, value):
    assert parse(typed, "m") == value


@pytest.mark.parametrize(
    ("typed", "unit", "fault"),
    [
        ("-1,234", "dB", "could mean 1.234 or 1234;"),
        ("14 ft 1,234 in", "m", "could mean 1.234 or 1234;"),
        ("1,234.5", "m", "could mean 1234.5 or 1.2345;"),
        ("1.234.567", "m", "more than one decimal mark"),
        ("1,2,3", "m", "more than one decimal mark"),
        ("   ", "m", "is empty"),
        ("-", "m", "holds no number"),
        ("nan", "m", "is not a finite number"),
        ("-inf dB", "dB", "is not a finite number"),
        ("∞", "m", "is not a finite number"),
        ("1e308 kW", "W", "is too large a number"),
        ("9" * 70, "m", "is longer than 60 characters"),
        ("1/0 m", "m", "divides by zero"),
        ("1 5/4 in", "m", "not below one"),
        ("11½½ in", "m", "two numbers with no unit between them"),
        ("14 6", "m", "two numbers with no unit between them"),
        ("3-5 m", "m", "two numbers with no unit between them"),
        ("1m80", "m", "ends in a number without its unit"),
        ("14 ft -6 in", "m", "left over"),
        ("14' - 6\"", "m", "left over"),
        ("6 in 14 ft", "m", "“ft” after “in”"),
        ("3 m 6 in", "m", "“in” after “m”"),
        ("3 m 4 m", "m", "“m” after “m”"),
        ("14.5 ft 6 in", "m", "has a part of one foot before a smaller unit"),
        ("14 ft 18 in", "m", "has 18 inch after the foot"),
        ("1'234", "m", "has 234 inch after the foot"),
        ("3 m 100 cm", "m", "has 100 centimeter after the meter"),
        ("5² m", "m", "is not known"),
        ("3 m m", "m", "is not known"),
        ("~3 m", "m", "has no number before “~3 m”"),
        ("1_000 m", "m", "left over"),
        ("\u0663 m", "m", "has no number"),
        ("250 MW", "W", "mega and not milli"),
        ("20 MS", "s", "mega and not milli"),
        ("3 W", "m", "is a power"),
        ("3 m", "W", "is a length"),
        ("3 m", "m2", "is a length"),
        ("1 m2", "m", "is an area"),
        ("4 m", "", "is a length"),
        ("3 dB", "V", "is a level or gain"),
        ("30 dB", "dBA", "is a level or gain"),
        ("24 dB/octave", "dB", "is a slope"),
        ("86 dB/2.83V/m", "dB", "states a drive or a distance too"),
        ("86 dB @ 1 W", "dB", "states a drive or a distance too"),
        ("86 dB (1 W/1 m)", "dB", "states a drive or a distance too"),
        ("12 dBu", "V", "a voltage level re 0.775 V"),
        ("20 dBW", "W", "a power level re 1 W"),
    ],
)
def test_that_text_without_one_plain_meaning_is_refused_with_the_reason(typed, unit, fault):
    with pytest.raises(UnitsError) as caught:
        parse(typed, unit)
    assert fault in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "pieces"),
    [
        ("4,42 furlongs", [(4.42, "furlongs")]),
        ("-14' 6½\"", [(-14.0, "'"), (-6.5, '"')]),
        ("3 m²", [(3.0, "m2")]),
        ("1 sq.  ft.", [(1.0, "sq ft")]),
        ("7", [(7.0, "")]),
    ],
)
def test_that_the_grammar_reads_numbers_and_words_without_knowing_the_units(typed, pieces):
    assert read(typed) == tuple(Piece(*piece) for piece in pieces)


@pytest.mark.parametrize("typed", ["3.2e500 m", "1e999 ft 6 in"])
def test_that_the_grammar_itself_lets_no_infinite_number_through(typed):
    with pytest.raises(TextFault, match="is too large a number"):
        read(typed)


@pytest.mark.parametrize("unit", CONVERTED + ALIKE)
def test_that_a_refusal_says_what_was_typed_what_was_expected_and_an_example_that_is_read(unit):
    with pytest.raises(UnitsError) as caught:
        parse("3 furlong", unit)
    said = re.fullmatch("“3 furlong” has the unit .+; expected an? .+, for example (.+)", str(caught.value))
    assert said is not None
    for example in said[1].split(" or "):
        assert np.isfinite(parse(example, unit))


@pytest.mark.parametrize("kind", sorted(KINDS.keys() - {"number"}))
def test_that_every_kind_of_quantity_names_units_it_can_read(kind):
    unit = next(unit for unit in CONVERTED + ALIKE if f"expected {KINDS[kind].noun} in" in refusal(unit))
    assert symbols(kind)
    for symbol in symbols(kind):
        assert np.isfinite(parse(f"1 {symbol}", unit))


def refusal(unit):
    with pytest.raises(UnitsError) as caught:
        parse("", unit)
    return str(caught.value)


@pytest.mark.parametrize(
    ("typed", "unit", "metric", "us"),
    [
        ("10", "m", 10.0, 3.048),
        ("10", "mm", 10.0, 254.0),
        ("10", "cm", 10.0, 25.4),
        ("10", "m2", 10.0, 0.9290304),
        ("68", "degC", 68.0, 20.0),
        ("10", "kg", 10.0, 4.5359237),
        ("2.5", "mm2", 2.5, 2.5),
        ("8", "ohm", 8.0, 8.0),
        ("10 m", "m", 10.0, 10.0),
        ("10 ft", "m", 3.048, 3.048),
    ],
)
def test_that_only_a_bare_number_depends_on_the_preference(typed, unit, metric, us):
    assert (parse(typed, unit, METRIC), parse(typed, unit, US)) == (metric, us)


@pytest.mark.parametrize(
    ("value", "unit", "preference", "decimals", "text"),
    [
        (4.42, "m", METRIC, None, "4.42 m"),
        (4.4196, "m", US, None, "14 ft 6.0 in"),
        (4.4196, "m", US, 0, "14 ft 6 in"),
        (-1.6764, "m", US, None, "-5 ft 6.0 in"),
        pytest.param(1.8275, "m", US, None, "5 ft 11.9 in", id="71.949 in stay below six feet"),
        pytest.param(1.8278, "m", US, None, "6 ft 0.0 in", id="71.961 in are rounded before they are split"),
        pytest.param(-1.8278, "m", US, None, "-6 ft 0.0 in", id="and so below nought"),
        (0.1524, "m", US, None, "6.0 in"),
        (0.0, "m", US, None, "0.0 in"),
        pytest.param(-0.001, "m", US, None, "0.0 in", id="no minus before nought inches"),
        (133.35, "mm", US, None, "5.25 in"),
        (12.5, "m2", US, None, "135 ft²"),
        (20.0, "degC", METRIC, None, "20 °C"),
        (20.0, "degC", US, None, "68 °F"),
        (20.5, "degC", METRIC, None, "20.5 °C"),
        (2.5, "W", US, None, "2.5 W"),
        (0.25, "W", METRIC, None, "0.25 W"),
        (250.0, "W", METRIC, None, "250 W"),
        (1009.4, "W", METRIC, None, "1009 W"),
        (1009.4, "W", METRIC, 1, "1009.4 W"),
        (8.0, "ohm", METRIC, None, "8 Ω"),
        (8.0, "ohm", METRIC, 2, "8.00 Ω"),
        (3.0, "dB", METRIC, None, "3.0 dB"),
        pytest.param(-0.04, "dB", METRIC, None, "0.0 dB", id="no minus before nought"),
        (-0.06, "dB", METRIC, None, "-0.1 dB"),
        pytest.param(9.996, "W", METRIC, None, "10 W", id="rounding up gains a digit"),
        (45.0, "%", METRIC, None, "45 %"),
        (30.0, "deg", METRIC, None, "30°"),
        (4.0, "", METRIC, None, "4"),
        (2.5, "mm2", US, None, "2.5 mm²"),
    ],
)
def test_that_values_are_shown_as_a_reader_expects(value, unit, preference, decimals, text):
    assert show(value, unit, preference, decimals) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_that_what_is_no_finite_number_is_never_shown_as_one(value):
    with pytest.raises(UnitsError, match="only a finite number"):
        show(value, "dB")


@given(room_sized, units, preferences, st.integers(0, 4))
def test_that_what_was_shown_is_read_back_within_the_decimals_shown(value, unit, preference, decimals):
    back = parse(show(value, unit, preference, decimals), unit, preference)
    shown_unit = "in" if (unit, preference) == ("m", US) else None
    if shown_unit:
        error = abs(back - value) / 0.0254
    else:
        error = abs(to_display(back, unit, preference) - to_display(value, unit, preference))
    assert error <= 0.5 * 10**-decimals * (1 + 1e-6) + 1e-9


@given(st.floats(1e-6, 1e4), st.sampled_from(["W", "V", "A", "ohm", "H", "%", "kg"]))
def test_that_a_quantity_shown_without_stated_decimals_keeps_three_digits(value, unit):
    assert parse(show(value, unit), unit) == pytest.approx(value, rel=0.005)


@given(st.floats(allow_nan=False, allow_infinity=False), units)
def test_that_any_float_typed_in_full_comes_back_exactly(value, unit):
    assert parse(repr(value), unit) == value
    assert parse(number_text(value, unit), unit) == value


@given(room_sized, units)
def test_that_a_number_edited_in_us_units_comes_back_to_eleven_digits(value, unit):
    back = parse(number_text(value, unit, US), unit, US)
    assert back == pytest.approx(value, rel=1e-11, abs=1e-9)


@given(st.integers(0, 999), st.integers(0, 99))
def test_that_a_decimal_comma_means_what_a_point_means(whole, hundredths):
    comma, point = f"{whole},{hundredths:02d}", f"{whole}.{hundredths:02d}"
    assert parse(comma, "m") == parse(point, "m") == float(point)


@given(st.integers(1, 999), st.integers(0, 999))
def test_that_a_comma_before_three_digits_is_always_refused_with_both_readings(whole, thousandths):
    with pytest.raises(UnitsError) as caught:
        parse(f"{whole},{thousandths:03d}", "m")
    assert f"could mean {whole}.{thousandths:03d} or {whole}{thousandths:03d};" in str(caught.value)


@given(
    st.integers(0, 300), st.integers(0, 11), st.sampled_from(["{} ft {} in", "{}'{}", "{}′ {}″", "{}'-{}\""])
)
def test_that_feet_and_inches_add_up_in_whatever_form(feet, inches, form):
    metres = (12 * feet + inches) * 0.0254
    assert parse(form.format(feet, inches), "m") == pytest.approx(metres, rel=1e-15)


@given(room_sized, st.integers(0, 3))
def test_that_inches_never_reach_a_foot(value, decimals):
    text = show(value, "m", US, decimals)
    assert float(re.search(r"([0-9.]+) in$", text)[1]) < 12.0


@given(room_sized, units, st.integers(0, 3))
def test_that_a_minus_changes_the_sign_shown_and_nothing_else(value, unit, decimals):
    size, text = show(abs(value), unit, US, decimals), show(-abs(value), unit, US, decimals)
    if unit != "degC":
        assert text == (f"-{size}" if re.search("[1-9]", size.removesuffix(display_unit(unit, US))) else size)


@given(st.text(max_size=70) | st.text("0123456789.,-+ '\"/½eftincmWdBΩ°%²\u2212\u202f", max_size=20), units)
def test_that_any_text_at_all_is_a_finite_number_or_is_refused(typed, unit):
    try:
        value = parse(typed, unit)
    except UnitsError as refused:
        assert "; expected " in str(refused)
    else:
        assert np.isfinite(value)


@given(room_sized, units, preferences)
def test_that_display_and_plan_units_are_inverse(value, unit, preference):
    back = from_display(to_display(value, unit, preference), unit, preference)
    assert back == pytest.approx(value, rel=1e-12, abs=1e-10)


def test_that_a_whole_axis_is_converted_at_once():
    metres = np.array([0.0, 0.3048, 3.048])
    np.testing.assert_allclose(to_display(metres, "m", US), [0.0, 1.0, 10.0], rtol=1e-15)
    np.testing.assert_allclose(from_display(np.array([32.0, 212.0]), "degC", US), [0.0, 100.0], atol=1e-12)


@pytest.mark.parametrize(
    ("unit", "metric", "us"),
    [
        ("m", "m", "ft"),
        ("mm", "mm", "in"),
        ("cm", "cm", "in"),
        ("m2", "m²", "ft²"),
        ("degC", "°C", "°F"),
        ("kg", "kg", "lb"),
    ],
)
def test_that_the_preference_chooses_the_unit_beside_a_number(unit, metric, us):
    assert (display_unit(unit, METRIC), display_unit(unit, US)) == (metric, us)


@pytest.mark.parametrize("unit", ALIKE)
def test_that_electrical_and_acoustical_units_are_the_same_in_both_systems(unit):
    assert display_unit(unit, METRIC) == display_unit(unit, US)
    assert to_display(1.25, unit, US) == 1.25
    assert step_for(unit, METRIC) == step_for(unit, US)


@pytest.mark.parametrize("preference", Preference)
@pytest.mark.parametrize("unit", CONVERTED + ALIKE)
def test_that_a_step_up_in_a_spin_box_can_be_seen(unit, preference):
    step = step_for(unit, preference)
    assert step > 0.0
    before, after = (from_display(number * step, unit, preference) for number in (1.0, 2.0))
    assert show(before, unit, preference, 4) != show(after, unit, preference, 4)


def test_that_a_unit_the_plan_does_not_have_is_a_fault_of_the_program_and_not_of_the_typist():
    with pytest.raises(ValueError, match=r"unit must be one of m, cm, .* got 'furlong'") as caught:
        parse("3", "furlong")
    assert not isinstance(caught.value, UnitsError)


def all_parts(part=Part):
    return {part}.union(*(all_parts(below) for below in part.__subclasses__()))


def test_that_every_unit_of_the_plan_has_a_display():
    found = set()
    for part in all_parts():
        for field in part.model_fields:
            try:
                found.add(spec_of(part, field).unit)
            except KeyError:
                continue
    assert {"m", "ohm", "W", "dB", "degC"} <= found
    for unit in found:
        assert parse(show(1.0, unit), unit) == 1.0


def test_that_neither_pint_nor_qt_is_imported_before_a_conversion_needs_it():
    program = """
import sys
from planner.plan.units import Preference, number_text, parse, show, to_display
assert (parse("4,42 m", "m"), show(2.5, "W"), number_text(8.0, "ohm")) == (4.42, "2.5 W", "8")
assert "pint" not in sys.modules
to_display(4.42, "m", Preference.US)
assert "pint" in sys.modules
assert not [name for name in sys.modules if name.startswith(("PySide6", "pyqtgraph"))]
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
