"""Driver impedance against a worked set and its own identities."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.impedance import driver_impedance

# Worked set in the manner of Small 1972 from a published lumped model (Re 7, BL 11.4, ...): computed.
RE, FS, QMS, QES = 7.0, 21.97345, 3.317937, 0.330619

positive = st.floats(0.1, 100.0)


@pytest.mark.parametrize(
    ("frequency_hz", "ohm", "degrees"),
    [
        (10.0, 14.8649, 52.54),
        (20.0, 65.6007, 28.78),
        (30.0, 33.8114, -53.76),
        (50.0, 14.2933, -51.78),
        (100.0, 8.8045, -33.54),
        (200.0, 7.4593, -18.38),
        (500.0, 7.0740, -7.57),
    ],
)
def test_that_magnitude_and_phase_match_the_worked_set(frequency_hz, ohm, degrees):
    impedance = driver_impedance(frequency_hz, RE, FS, QMS, QES, 0.0)
    assert abs(impedance) == pytest.approx(ohm, rel=2e-4)
    assert np.degrees(np.angle(impedance)) == pytest.approx(degrees, abs=0.01)


def test_that_the_peak_at_resonance_is_that_of_the_worked_set():
    # Zmax = Re (1 + Qms / Qes) = 7 + 70.2486 ohm.
    assert driver_impedance(FS, RE, FS, QMS, QES, 0.0) == pytest.approx(77.2486 + 0j, rel=1e-5)


def test_that_the_coil_adds_its_reactance():
    # By hand: 2 pi x 10 kHz x 0.5 mH = 31.416 ohm, at 90 degrees.
    with_coil = driver_impedance(10000.0, RE, FS, QMS, QES, 0.0005)
    without = driver_impedance(10000.0, RE, FS, QMS, QES, 0.0)
    assert with_coil - without == pytest.approx(31.41593j, abs=1e-4)


@given(st.floats(1.0, 20000.0), positive, st.floats(5.0, 2000.0), positive, positive, st.floats(0.0, 0.01))
def test_that_a_driver_is_passive_and_never_below_its_coil(frequency, dc, fs, qms, qes, inductance):
    impedance = driver_impedance(frequency, dc, fs, qms, qes, inductance)
    assert impedance.real >= dc * (1 - 1e-12)
    assert impedance.real <= dc * (1 + qms / qes) * (1 + 1e-12)


@given(st.floats(0.05, 20.0))
def test_that_both_sides_of_the_resonance_mirror_each_other(ratio):
    below = driver_impedance(FS / ratio, RE, FS, QMS, QES, 0.0)
    above = driver_impedance(FS * ratio, RE, FS, QMS, QES, 0.0)
    assert below == pytest.approx(np.conj(above), rel=1e-9)


def test_that_small_q_follows_from_the_curve_as_it_is_measured():
    # Small 1972: where |Z| = sqrt(r0) Re, r0 = Zmax/Re, f2 - f1 = fs sqrt(r0) / Qms and f1 f2 = fs^2.
    frequency = np.linspace(5.0, 100.0, 950001)
    magnitude = np.abs(driver_impedance(frequency, RE, FS, QMS, QES, 0.0))
    r0 = 1 + QMS / QES
    inside = frequency[magnitude >= np.sqrt(r0) * RE]
    assert inside[-1] - inside[0] == pytest.approx(FS * np.sqrt(r0) / QMS, abs=5e-4)
    assert np.sqrt(inside[-1] * inside[0]) == pytest.approx(FS, abs=5e-4)


@pytest.mark.parametrize(
    ("position", "named"),
    list(enumerate(["frequency_hz", "dc_ohm", "resonance_hz", "mechanical_q", "electrical_q"])),
)
def test_that_senseless_drivers_are_refused_by_name_and_value(position, named):
    arguments = [100.0, RE, FS, QMS, QES, 0.0]
    for wrong in (0.0, -1.0, np.nan):
        arguments[position] = wrong
        with pytest.raises(ValueError, match=f"{named} must be above 0, got {wrong:g}"):
            driver_impedance(*arguments)


def test_that_a_negative_inductance_is_refused():
    with pytest.raises(ValueError, match=r"inductance_h must be at least 0, got -0\.001"):
        driver_impedance(100.0, RE, FS, QMS, QES, -0.001)


def test_that_six_arguments_broadcast_and_scalars_stay_scalars():
    frequency = np.geomspace(20.0, 20000.0, 31)
    dc = np.array([4.0, 8.0])[:, None]
    assert driver_impedance(frequency, dc, FS, QMS, QES, 0.0).shape == (2, 31)
    assert isinstance(driver_impedance(100, 7, 22, 3, 1, 0), complex)
