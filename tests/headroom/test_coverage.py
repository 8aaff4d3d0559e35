"""Whom a horn covers, and how near one may sit."""

import doctest

import numpy as np
import pytest

from planner.headroom import coverage
from planner.headroom.coverage import far_field_distance, horn_coverage, least_distances
from planner.plan import PlanError
from tests.plans import changed, in_room, open_air, plan_of, section

BOX = "candidates.0.loudspeaker"
HORN = {
    "kind": "horn",
    "horizontal_deg": 60.0,
    "vertical_deg": 40.0,
    "mouth_width_m": 0.5,
    "mouth_height_m": 0.4,
}


def with_sections(*sections, data=None):
    data = changed(open_air() if data is None else data, f"{BOX}.sections", list(sections))
    return changed(data, "stands.0.aim", {"azimuth_deg": 0.0, "elevation_deg": 0.0})


def seats_at(data, *angles):
    """Seats 4 m from the stand at (0, 2, 1), at angles of azimuth and elevation."""
    seats = []
    for index, (azimuth, elevation) in enumerate(np.radians(angles).tolist()):
        level = 4.0 * np.cos(elevation)
        place = level * np.cos(azimuth), 2.0 + level * np.sin(azimuth), 1.0 + 4.0 * np.sin(elevation)
        seats.append({"name": str(index), **dict(zip(("x_m", "y_m", "z_m"), place, strict=True))})
    return changed(data, "seats", seats)


def test_that_a_seat_is_outside_once_it_is_more_than_six_decibels_down():
    # 60 degrees wide: at 29 off axis -6.02 (29/30)^2 = -5.625 dB, at 31 -6.428 dB, at 15 -1.505 dB.
    plan = plan_of(seats_at(with_sections(section(radiator=HORN)), (0, 0), (15, 0), (-29, 0), (31, 0)))
    (found,) = horn_coverage(plan)
    assert found.frequency_hz.tolist() == [2000.0, 4000.0, 8000.0]
    assert found.loss_db[0] == pytest.approx([0.0, -1.505, -5.625, -6.428], abs=1e-3)
    assert found.outside.tolist() == [[False, False, False, True]] * 3


def test_that_what_a_seat_is_off_axis_in_both_planes_adds_up():
    # 20 of 30 degrees across and 15 of 20 upward: 6.02 (0.4444 + 0.5625) = 6.062 dB, just outside.
    plan = plan_of(seats_at(with_sections(section(radiator=HORN)), (20, 15), (20, 14.5)))
    (found,) = horn_coverage(plan)
    assert found.loss_db[0, 0] == pytest.approx(-6.062, abs=1e-3)
    assert found.outside[0].tolist() == [True, False]


def test_that_a_small_mouth_covers_more_below_its_pattern_control():
    # 25 400/(0.1 x 60) = 4233 Hz: at 2 kHz 60 x 4233/2000 = 127 degrees, 63.5 to either side.
    small = {**HORN, "mouth_width_m": 0.1}
    plan = plan_of(seats_at(with_sections(section(radiator=small)), (40, 0)))
    (found,) = horn_coverage(plan)
    assert found.half_horizontal_deg == pytest.approx([63.5, 31.75, 30.0], abs=0.05)
    assert found.outside[:, 0].tolist() == [False, True, True]


def test_that_only_what_plays_there_and_stands_there_is_listed():
    low = section("low", high_hz=3000.0, radiator=HORN)
    high = section("high", low_hz=3000.0, high_hz=6000.0, radiator=HORN)
    data = seats_at(with_sections(low, high), (0, 0))
    stand = data["stands"][0]
    data["stands"] = [{**stand, "carries": ["low"]}, {**stand, "name": "Other", "x_m": 0.5}]
    listed = [(one.stand, one.section, one.frequency_hz.tolist()) for one in horn_coverage(plan_of(data))]
    assert listed == [
        ("Left", "low", [2000.0]),
        ("Other", "low", [2000.0]),
        ("Other", "high", [4000.0]),
    ]


def test_that_a_loudspeaker_without_horns_covers_nobody_in_particular():
    assert horn_coverage(plan_of(in_room())) == ()
    with pytest.raises(PlanError):
        horn_coverage(plan_of(changed(in_room(), "seats.0.x_m", 9.0)))


def test_that_three_times_the_largest_mouth_is_the_least_distance():
    # A mouth 0.5 m wide asks for 1.5 m; one that is 1.2 m high for 3.6 m.
    (found,) = least_distances(plan_of(with_sections(section(high_hz=2000.0, radiator=HORN))))
    assert (found.distance_m, found.rule, found.part) == (pytest.approx(1.5), "size", "full")
    assert found.nearer == ()
    tall = section("tall", high_hz=500.0, radiator={**HORN, "mouth_height_m": 1.2})
    other = section("other", low_hz=500.0, high_hz=2000.0, radiator=HORN)
    data = seats_at(with_sections(tall, other), (0, 0), (10, 0))
    (found,) = least_distances(plan_of(changed(data, "seats.1.x_m", 3.0)))
    assert (found.distance_m, found.part, found.nearer) == (pytest.approx(3.6), "tall", ("1",))


def test_that_the_spacing_of_mouths_on_one_another_counts_as_a_size():
    # Two dipoles' sizes are their baffle's; a horn 0.3 m high above one of 1.0 m: (1.0 + 0.3)/2 = 0.65 m,
    # less than the 1.0 m of the lower one alone; with 1.0 and 1.4 m spacing is 1.2 m and 1.4 m rules.
    low = section("low", high_hz=500.0, radiator={"kind": "dipole"})
    high = section("high", low_hz=500.0, high_hz=2000.0, radiator={**HORN, "mouth_height_m": 1.4})
    data = with_sections(low, high)
    data = changed(changed(data, f"{BOX}.baffle_width_m", 1.0), f"{BOX}.radiates_into", "free_field")
    (found,) = least_distances(plan_of(data))
    assert (found.distance_m, found.part) == (pytest.approx(4.2), "high")


def test_that_a_large_cone_that_plays_high_is_ruled_by_its_far_field():
    # 0.3 m across are 0.07069 m2; 343.2/20000 = 0.01716 m: 4.119 m, and 3 x 0.3 = 0.9 m. J1's ripple on
    # Q = (ka)2/(1 - J1(2ka)/ka) keeps A at the cone's own within a percent at such ka (55).
    cone = {"kind": "diaphragm", "diameter_m": 0.3}
    (found,) = least_distances(plan_of(with_sections(section(radiator=cone))))
    assert (found.rule, found.part) == ("piston", "full")
    assert found.distance_m == pytest.approx(4.119, rel=0.01)
    assert found.nearer == ("Chair",)


def test_that_a_source_without_a_size_asks_for_nothing():
    assert least_distances(plan_of(open_air())) == ()


def test_that_the_worked_example_comes_out():
    outcome = doctest.testmod(coverage)
    assert (outcome.attempted, outcome.failed) == (1, 0)


def test_that_at_the_far_field_distance_the_axial_level_follows_1_over_r():
    # Kinsler, Frey, Coppens and Sanders, Fundamentals of Acoustics, 4th ed., section 7.4: the pressure on
    # the axis of a piston goes as |sin(k/2 (sqrt(r2 + a2) - r))|; far away as k a2 / (4 r).
    radius, wavelength = 0.2, 0.02
    k = 2 * np.pi / wavelength
    far = far_field_distance(np.pi * radius**2, (k * radius) ** 2, wavelength)
    r = far * np.array([0.25, 1.0, 2.0, 10.0])
    axial = np.abs(np.sin(k / 2 * (np.hypot(r, radius) - r)))
    off_db = 20 * np.log10(axial / (k * radius**2 / (4 * r)))
    assert np.all(np.abs(off_db[1:]) <= 0.4)
    assert abs(off_db[0]) > 1.0
