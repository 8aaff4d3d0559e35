"""Floor loads against hand calculation and code values."""

import pytest

from planner.headroom.weight import CODE_LOADS, floor_loads, kn_per_m2, psf
from tests.plans import amplifier, changed, open_air, plan_of

BOX = "candidates.0.loudspeaker"


def loads(data):
    return floor_loads(plan_of(data).candidates[0])


def heavy(data, mass_kg=100.0, footprint_m=(0.5, 0.4)):
    return changed(changed(data, f"{BOX}.mass_kg", mass_kg), f"{BOX}.footprint_m", list(footprint_m))


def test_that_a_hundred_kilograms_load_their_footprint_as_worked_out_by_hand():
    # By hand: 980.665 N on 0.2 m2; 4.9033 kN/m2 over 0.0478803 kN/m2 for a psf.
    (load,) = loads(heavy(open_air()))
    assert (load.part, load.name, load.mass_kg, load.area_m2) == ("loudspeaker", "Loudspeaker", 100.0, 0.2)
    assert load.load_kn_m2 == pytest.approx(4.90333, abs=1e-4)
    assert load.load_psf == pytest.approx(102.41, abs=0.01)
    assert load.above == ("rooms", "sleeping_rooms", "dwellings")


def test_that_code_values_are_those_of_the_codes():
    # IRC table R301.5: 40 and 30 psf, which its note makes 1.92 and 1.44 kN/m2; EN 1991-1-1, from memory.
    values = {one.key: (one.low_kn_m2, one.high_kn_m2) for one in CODE_LOADS}
    assert values["rooms"] == pytest.approx((1.9152, 1.9152), abs=1e-4)
    assert values["sleeping_rooms"] == pytest.approx((1.4364, 1.4364), abs=1e-4)
    assert values["dwellings"] == (1.5, 2.0)


def test_that_only_exceeded_values_are_named():
    # By hand: 35 kg on 0.2 m2 are 1.716 kN/m2: above 30 psf, below 40 psf and within 1.5 to 2.0 kN/m2.
    (load,) = loads(heavy(open_air(), 35.0))
    assert load.load_kn_m2 == pytest.approx(1.716, abs=1e-3)
    assert load.above == ("sleeping_rooms",)


def test_that_pounds_per_square_foot_convert_as_their_definition_says():
    # 1 psf is 0.45359237 kg x 9.80665 m/s2 over (0.3048 m)2; 195.3 kg on a square metre are 40 psf.
    assert psf(0.45359237 * 9.80665 / 0.3048**2 / 1000.0) == pytest.approx(1.0, rel=1e-7)
    assert psf(kn_per_m2(195.3, 1.0)) == pytest.approx(40.0, abs=0.01)


def test_that_amplifiers_are_loads_too_and_what_is_not_known_is_left_out():
    amplifiers = [amplifier(mass_kg=12.0, footprint_m=[0.3, 0.2]), amplifier(name="Other", mass_kg=5.0)]
    data = changed(open_air(), "candidates.0.amplifiers", amplifiers)
    (load,) = loads(data)
    assert (load.part, load.name) == ("amplifier", "Triode")
    assert load.load_kn_m2 == pytest.approx(12.0 * 9.80665 / 0.06 / 1000.0, rel=1e-9)
    assert loads(open_air()) == ()
