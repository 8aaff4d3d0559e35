"""Directivity against handbook figures and reference tables."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.bands import third_octaves
from planner.acoustics.directivity import (
    baffle_step,
    coverage_factor,
    dipole_off_axis,
    horn_coverage,
    horn_off_axis,
    pattern_control,
    piston_factor,
    piston_off_axis,
)

REFERENCE = Path(__file__).parents[1] / "reference"
angles = st.floats(-720.0, 720.0)
coverages = st.floats(1.0, 180.0)


def test_that_pistons_match_the_table_of_scipy_values():
    table = np.genfromtxt(REFERENCE / "piston.csv", delimiter=",", names=True)
    assert 10 * np.log10(piston_factor(table["ka"])) == pytest.approx(table["di_db"], abs=1e-4)
    for angle_deg in (30, 60, 90):
        level_db = piston_off_axis(table["ka"], angle_deg)
        assert level_db == pytest.approx(table[f"rel_db_{angle_deg}deg"], abs=1e-3)
    # Q = (ka)^2 / R1: the table's radiation resistance is another road to the same number.
    assert table["ka"] ** 2 / piston_factor(table["ka"]) == pytest.approx(table["r1_norm_2ka"], abs=1e-6)


@pytest.mark.parametrize(
    ("two_ka", "resistance"),
    # R1 = 1 - 2 J1(2ka)/2ka of a baffled piston, Beranek and Mellow, 2nd ed. (transcription).
    [(0.1, 0.001249), (1.0, 0.119899), (3.0, 0.773961), (5.0, 1.131032), (10.0, 0.991305)],
)
def test_that_the_piston_factor_follows_from_published_radiation_resistance(two_ka, resistance):
    ka = two_ka / 2
    assert ka**2 / piston_factor(ka) == pytest.approx(resistance, abs=6e-7)


@pytest.mark.parametrize(
    ("ka", "index_db", "at_30", "at_60", "at_90"),
    # Beranek and Mellow's definitions, computed with scipy.
    [
        (0.1, 3.018, 0.00, -0.01, -0.01),
        (1.0, 3.734, -0.27, -0.83, -1.11),
        (2.0, 5.880, -1.11, -3.49, -4.78),
        (3.0, 9.159, -2.57, -8.81, -12.92),
        (10.0, 20.029, -17.65, -24.06, -41.22),
    ],
)
def test_that_pistons_beam_as_the_handbook_says(ka, index_db, at_30, at_60, at_90):
    assert 10 * np.log10(piston_factor(ka)) == pytest.approx(index_db, abs=1e-3)
    assert piston_off_axis(ka, [30.0, 60.0, 90.0]) == pytest.approx([at_30, at_60, at_90], abs=0.006)


def test_that_the_main_lobe_has_its_published_marks():
    # x = ka at 90 degrees: half power at 1.61634, -6 dB (half amplitude, -6.02) at 2.21509 by J1(x) = x/4;
    # -6.000 dB at 2.21179; first side lobe -17.57 dB at 5.1356; nulls at 3.83171 and 7.01559.
    assert piston_off_axis(1.61634, 90.0) == pytest.approx(-3.0103, abs=1e-4)
    assert piston_off_axis(2.21179, 90.0) == pytest.approx(-6.0, abs=1e-4)
    assert piston_off_axis(5.1356, 90.0) == pytest.approx(-17.57, abs=0.005)
    assert piston_off_axis([3.83171, 7.01559], 90.0) == pytest.approx([-60.0, -60.0])


def test_that_piston_limits_are_half_space_and_a_beam():
    assert piston_factor(0.0) == 2.0
    assert piston_factor(1e-6) == pytest.approx(2.0, rel=1e-12)
    # By hand, small ka: Q = 1 / (1/2 - k^2/12) = 2 (1 + k^2/6); at 0.01 that is 2.0000333.
    assert piston_factor(0.01) == pytest.approx(2.0 * (1 + 1e-4 / 6), rel=1e-9)
    assert 10 * np.log10(piston_factor(100.0)) == pytest.approx(40.0, abs=0.02)


@given(st.floats(0.0, 100.0), angles)
def test_that_a_piston_is_never_louder_off_axis_and_never_below_its_floor(ka, angle):
    level = piston_off_axis(ka, angle)
    assert -60.0 - 1e-9 <= level <= 1e-9
    assert level == pytest.approx(piston_off_axis(ka, -angle), abs=1e-6)
    assert piston_off_axis(ka, 0.0) == 0.0


@given(st.floats(0.0, 30.0), st.floats(90.0, 270.0))
def test_that_a_piston_keeps_its_loss_of_ninety_degrees_behind_the_baffle(ka, angle):
    assert piston_off_axis(ka, angle) == pytest.approx(piston_off_axis(ka, 90.0), abs=1e-9)


@given(st.floats(0.0, 200.0), st.floats(0.0, 1.0))
def test_that_the_piston_factor_never_falls_below_half_space(ka, more):
    assert piston_factor(ka) >= 2.0 - 1e-12
    if ka < 1.5:  # it ripples a little above
        assert piston_factor(ka + more) >= piston_factor(ka) - 1e-12


@given(st.floats(0.3, 30.0))
def test_that_the_piston_factor_is_the_integral_of_its_pattern(ka):
    # Definition: Q = 2 / integral over the front of D^2 sin(angle), Gauss-Legendre with 200 nodes.
    nodes, weights = np.polynomial.legendre.leggauss(200)
    angle = 45.0 * (nodes + 1.0)
    power = 10 ** (piston_off_axis(ka, angle) / 10) * np.sin(np.radians(angle))
    front = np.sum(weights * power) * np.pi / 4
    assert piston_factor(ka) == pytest.approx(2 / front, rel=2e-4)  # the -60 dB floor adds a little


@pytest.mark.parametrize(
    ("horizontal", "vertical", "factor"),
    [
        pytest.param(90.0, 40.0, 12.861, id="a sound-system handbook prints 12.8"),
        pytest.param(60.0, 40.0, 18.281, id="computed from Molloy's formula"),
        pytest.param(90.0, 90.0, 6.0, id="180 / arcsin(1/2) = 180 / 30"),
        pytest.param(180.0, 180.0, 2.0, id="half space, 180 / 90"),
        pytest.param(5000.0, 360.0, 2.0, id="wider than 180 counts as 180"),
        pytest.param(180.0, 60.0, 6.0, id="180 / arcsin(sin 30) = 180 / 30"),
    ],
)
def test_that_coverage_gives_molloys_factor(horizontal, vertical, factor):
    assert coverage_factor(horizontal, vertical) == pytest.approx(factor, abs=1e-3)
    assert coverage_factor(vertical, horizontal) == pytest.approx(factor, abs=1e-3)


@given(coverages, coverages, st.floats(1.01, 3.0))
def test_that_a_wider_horn_never_has_a_higher_factor(horizontal, vertical, wider):
    assert coverage_factor(horizontal * wider, vertical) <= coverage_factor(horizontal, vertical) + 1e-9


@pytest.mark.parametrize(
    ("mouth_m", "coverage_deg", "hz"),
    # Keele 1975 with 10^6 inch degree Hz; the last is 20 inch, 10^6 / (20 x 90) = 555.6 Hz.
    [(0.50, 90.0, 564.4), (0.30, 60.0, 1411.1), (0.508, 90.0, 555.6)],
)
def test_that_pattern_control_follows_keele(mouth_m, coverage_deg, hz):
    assert pattern_control(mouth_m, coverage_deg) == pytest.approx(hz, abs=0.06)


def test_that_a_horn_widens_below_its_control_and_holds_above():
    # By hand: 60 degrees, control 800 Hz: at 200 Hz 240 degrees (no limit), at 1600 Hz 60.
    assert horn_coverage([200.0, 800.0, 1600.0], 60.0, 800.0) == pytest.approx([240.0, 60.0, 60.0])


def test_that_the_mouth_sees_one_angle_times_wavelength_below_control():
    # Below control angle x frequency stays that of the control frequency.
    frequency = third_octaves(20.0, 500.0)
    widened = horn_coverage(frequency, 90.0, pattern_control(0.5, 90.0))
    assert widened * frequency == pytest.approx(np.full(frequency.size, 25400.0 / 0.5))


@pytest.mark.parametrize(
    ("azimuth", "elevation", "level_db"),
    # Common practice, no published source; by hand for 60 by 40 degrees.
    [
        (0.0, 0.0, 0.0),
        (30.0, 0.0, -6.02),
        (-30.0, 0.0, -6.02),
        (0.0, 20.0, -6.02),
        (15.0, 10.0, -3.01),  # (1/2)^2 + (1/2)^2 = 1/2
        (30.0, 20.0, -12.04),
        (180.0, 0.0, -20.0),
        (345.0, 0.0, -1.505),  # 15 degrees the other way round
    ],
)
def test_that_a_horn_falls_off_with_the_square_of_the_angle(azimuth, elevation, level_db):
    assert horn_off_axis(azimuth, elevation, 60.0, 40.0) == pytest.approx(level_db, abs=1e-9)


@given(angles, st.floats(-90.0, 90.0), coverages, coverages)
def test_that_a_horn_stays_between_its_axis_and_its_floor(azimuth, elevation, horizontal, vertical):
    assert -20.0 <= horn_off_axis(azimuth, elevation, horizontal, vertical) <= 0.0


@pytest.mark.parametrize(
    ("angle_deg", "level_db"),
    # By hand: cos 45 = 0.70711, cos 60 = 0.5; 90 degrees is the floor, the rear is as loud as the front.
    [(0.0, 0.0), (45.0, -3.0103), (60.0, -6.0206), (90.0, -20.0), (-120.0, -6.0206), (180.0, 0.0)],
)
def test_that_a_dipole_follows_the_cosine(angle_deg, level_db):
    assert dipole_off_axis(angle_deg) == pytest.approx(level_db, abs=1e-4)


def test_that_a_dipole_has_the_directivity_factor_of_a_gradient_source():
    # Definition: 2 / integral of cos^2(angle) sin(angle) over the sphere = 3; the -20 dB floor adds 0.07 %.
    angle = np.linspace(0.0, 180.0, 18001)
    power = 10 ** (dipole_off_axis(angle) / 10) * np.sin(np.radians(angle))
    assert 2 / (np.mean(power) * np.pi) == pytest.approx(3.0, rel=3e-3)


@pytest.mark.parametrize(
    ("width_m", "half_hz"),
    # f3 = 115 / width (a university page after Olson).
    [(0.20, 575.0), (0.25, 460.0), (0.30, 383.333)],
)
def test_that_the_baffle_step_has_its_middle_at_the_rule_of_thumb(width_m, half_hz):
    assert baffle_step(half_hz, width_m) == pytest.approx(-3.0103, abs=1e-4)


def test_that_the_baffle_step_is_six_decibels_in_all():
    # By hand, f = f3 sqrt(2): x^2 = 1, gain^2 = 5/2/4 = 0.625, -2.0412 dB.
    assert baffle_step(0.0, 0.3) == pytest.approx(-6.0206, abs=1e-4)
    assert baffle_step(1e6, 0.3) == pytest.approx(0.0, abs=1e-6)
    assert baffle_step(460.0 * np.sqrt(2), 0.25) == pytest.approx(-2.0412, abs=1e-4)


@given(st.floats(1.0, 20000.0), st.floats(0.05, 3.0), st.floats(1.01, 4.0))
def test_that_a_wider_baffle_never_costs_level(frequency, width, wider):
    assert baffle_step(frequency, width) <= baffle_step(frequency, width * wider) + 1e-9
    same = baffle_step(frequency * wider, width / wider)
    assert baffle_step(frequency, width) == pytest.approx(same, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: piston_factor(-0.1), "ka must be at least 0, got -0.1"),
        (lambda: piston_off_axis(-1.0, 30.0), "ka must be at least 0, got -1"),
        (lambda: piston_off_axis(1.0, np.nan), "angle_deg must be finite, got nan"),
        (lambda: coverage_factor(0.0, 40.0), "horizontal_deg must be above 0, got 0"),
        (lambda: coverage_factor(90.0, -40.0), "vertical_deg must be above 0, got -40"),
        (lambda: pattern_control(0.0, 90.0), "mouth_m must be above 0, got 0"),
        (lambda: pattern_control(0.5, 0.0), "coverage_deg must be above 0, got 0"),
        (lambda: horn_coverage(0.0, 60.0, 800.0), "frequency_hz must be above 0, got 0"),
        (lambda: horn_coverage(100.0, 60.0, -1.0), "control_hz must be above 0, got -1"),
        (lambda: horn_off_axis(0.0, 0.0, 0.0, 40.0), "horizontal_deg must be above 0, got 0"),
        (lambda: dipole_off_axis(np.inf), "angle_deg must be finite, got inf"),
        (lambda: baffle_step(-1.0, 0.3), "frequency_hz must be at least 0, got -1"),
        (lambda: baffle_step(100.0, 0.0), "width_m must be above 0, got 0"),
    ],
)
def test_that_senseless_sources_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_scalars_give_floats_and_arrays_give_arrays():
    column, row = np.full((3, 1), 30.0), np.full(31, 60.0)
    for formula, arguments in [
        (piston_factor, (row,)),
        (piston_off_axis, (column, row)),
        (coverage_factor, (column, row)),
        (pattern_control, (column, row)),
        (horn_coverage, (row, column, 100)),
        (horn_off_axis, (column, 10, row, row)),
        (dipole_off_axis, (row,)),
        (baffle_step, (row, column)),
    ]:
        shape = np.broadcast_shapes(*(np.shape(argument) for argument in arguments))
        assert np.shape(formula(*arguments)) == shape
        assert isinstance(formula(*(np.ravel(argument)[0] for argument in arguments)), float)
