"""Searching the catalogue by what an entry must do, against hand calculations and whole outcomes."""

import pytest

from planner.headroom import compute
from planner.headroom.catalogue_search import Wants, rated_watts, search, sensitivity_db
from planner.plan.amplifier import Amplifier
from planner.plan.catalogue import built_in_entries, entry_of, title_of
from planner.plan.loudspeaker import Loudspeaker
from tests.plans import amplifier, candidate, changed, open_air, plan_of, section

ENTRIES = built_in_entries()


def loudspeaker(**changes):
    return Loudspeaker.model_validate({**candidate()["loudspeaker"], **changes})


def amp(*taps, **changes):
    keys = ("ohm", "watts", "distortion_pct", "output_ohm")
    return Amplifier.model_validate(
        {**amplifier(), "taps": [dict(zip(keys, tap, strict=True)) for tap in taps], **changes}
    )


def titles(found):
    return [title_of(one.entry) for one in found]


def test_that_a_flat_loudspeaker_has_its_stated_level_and_that_is_the_first_step_of_the_ladder():
    plan = plan_of(open_air())
    level = sensitivity_db(plan.candidates[0].loudspeaker)
    assert level == pytest.approx(100.0)
    assert level == pytest.approx(compute(plan).seats[0].ladder[0].level_db)


def test_that_volts_become_watts_by_the_nominal_impedance():
    volts = section(sensitivity={"level_db": 100.0, "drive": "2.83 V"})
    # By hand: 2.83 V into 4 ohm are 2 W, into 16 ohm half a watt.
    for ohm, level in [(4.0, 96.99), (8.0, 100.0), (16.0, 103.01)]:
        assert sensitivity_db(loudspeaker(impedance={"nominal_ohm": ohm}, sections=[volts])) == pytest.approx(
            level, abs=0.005
        )


def test_that_a_response_counts_and_outer_edges_and_baffle_step_do_not():
    raised = section(response=[[20.0, 2.0], [20_000.0, 2.0]], low_hz=100.0, high_hz=5000.0)
    assert sensitivity_db(loudspeaker(sections=[raised], baffle_width_m=0.3)) == pytest.approx(102.0)


def test_that_sections_meeting_in_one_level_sum_flat():
    low, high = section("low", high_hz=500.0), section("high", low_hz=500.0)
    assert sensitivity_db(loudspeaker(sections=[low, high])) == pytest.approx(100.0)


def test_that_two_drivers_in_parallel_make_6_db_more_for_a_volt_and_3_db_more_for_a_watt():
    driver = section(
        sensitivity={"level_db": 94.0, "drive": "2.83 V"},
        impedance={"nominal_ohm": 8.0},
        radiator={"kind": "diaphragm", "diameter_m": 0.2, "count": 2},
        wiring="parallel",
    )
    # By hand: 94 + 6.02 dB for 2.83 V, which are 2 W into 4 ohm.
    whole = loudspeaker(impedance={"nominal_ohm": 4.0}, sections=[driver])
    assert sensitivity_db(whole) == pytest.approx(97.01, abs=0.005)
    assert sensitivity_db(loudspeaker(impedance=None, sections=[driver])) == pytest.approx(97.01, abs=0.005)


def test_that_with_an_amplifier_each_the_least_sensitive_section_counts():
    eight = {"nominal_ohm": 8.0}
    low = section("low", high_hz=500.0, impedance=eight, sensitivity={"level_db": 97.0, "drive": "1 W"})
    high = section("high", low_hz=500.0, impedance=eight)
    assert sensitivity_db(loudspeaker(impedance=None, sections=[low, high])) == pytest.approx(97.0)


def test_that_without_any_impedance_there_is_no_level_for_a_watt():
    silent = loudspeaker(impedance=None)
    assert sensitivity_db(silent) is None
    assert search([entry_of(silent)], Wants(least_sensitivity_db=40.0)) == ()
    assert len(search([entry_of(silent)], Wants())) == 1


def test_that_a_section_narrower_than_a_band_still_has_a_level():
    assert sensitivity_db(loudspeaker(sections=[section(low_hz=1100.0, high_hz=1101.0)])) == pytest.approx(
        100.0
    )


@pytest.mark.parametrize(
    ("ohm", "watts"),
    [
        pytest.param(8.0, 10.0, id="the rating itself"),
        # By hand: the current of 10 W into 8 ohm, 1.118 A rms, makes 5 W in 4 ohm.
        pytest.param(4.0, 5.0, id="half the load: amps run out"),
        # By hand: EMF 8.944 V × (1 + 2/8) = 11.18 V; into 16 ohm behind 2 ohm 9.938 V, 6.173 W.
        pytest.param(16.0, 6.173, id="twice the load: the EMF runs out"),
    ],
)
def test_that_watts_into_a_load_are_what_volts_and_amps_allow(ohm, watts):
    assert rated_watts(amp((8.0, 10.0, 3.0, 2.0)), ohm, 3.0)[0] == pytest.approx(watts, rel=1e-3)


def test_that_watts_are_those_of_an_outcome_into_the_same_resistance():
    # At a target that meets the limit exactly, the outcome's headroom is 0: so watts needed are watts given.
    taps = [{"ohm": 8.0, "watts": 10.0, "distortion_pct": 3.0, "output_ohm": 2.0}]
    data = changed(open_air(), "candidates.0.amplifiers.0.taps", taps)
    for ohm in (4.0, 8.0, 16.0):
        plan = plan_of(changed(data, "candidates.0.loudspeaker.impedance", {"nominal_ohm": ohm}))
        one = compute(plan).seats[0].amplifiers[0]
        watts, _ = rated_watts(plan.candidates[0].amplifiers[0], ohm, 3.0)
        sine_w = one.peak_volts**2 / (2.0 * ohm)
        assert watts == pytest.approx(sine_w * 10.0 ** (one.headroom_db / 10.0), rel=1e-6)


def test_that_watts_at_more_distortion_than_asked_do_not_count():
    few = entry_of(amp((8.0, 5.0, 3.0, 2.0), (8.0, 8.0, 10.0, 2.0)))
    wants = {"least_watts": 4.0}
    assert [one.watts for one in search([few], Wants(**wants, at_distortion_pct=10.0))] == pytest.approx(
        [8.0]
    )
    assert [one.watts for one in search([few], Wants(**wants, at_distortion_pct=3.0))] == pytest.approx([5.0])
    assert search([few], Wants(**wants, at_distortion_pct=1.0)) == ()
    # Not asked for watts, it is shown with what it has, and at which distortion that is.
    (shown,) = search([few], Wants(at_distortion_pct=1.0))
    assert (shown.watts, shown.distortion_pct) == (pytest.approx(8.0), 10.0)


def test_that_a_search_for_level_gives_loudspeakers_the_loudest_first():
    found = search(ENTRIES, Wants(least_sensitivity_db=103.5))
    levels = [one.sensitivity_db for one in found]
    assert [one.entry.kind for one in found] == ["loudspeaker"] * 4
    assert levels == sorted(levels, reverse=True) and min(levels) >= 103.5


def test_that_a_search_for_watts_gives_amplifiers_the_smallest_first():
    found = search(ENTRIES, Wants(least_watts=20.0))
    watts = [one.watts for one in found]
    assert {one.entry.kind for one in found} == {"amplifier"}
    assert watts == sorted(watts) and watts[0] == pytest.approx(20.0)
    assert len(found) == sum(
        rated_watts(one.data, 8.0, 3.0)[0] >= 19.99 for one in ENTRIES if one.kind == "amplifier"
    )


def test_that_into_2_ohm_only_amplifiers_with_amps_are_left():
    strong = titles(search(ENTRIES, Wants(least_watts=200.0, into_ohm=2.0)))
    assert strong == ["Transistor amplifier, 100 W", "Large transistor amplifier, 200 W"]


def test_that_size_is_met_turned_either_way_and_an_unknown_size_is_not_met():
    speaker = loudspeaker(footprint_m=[0.5, 0.3], mass_kg=20.0)
    entries = [entry_of(speaker), entry_of(loudspeaker(name="Of unknown size"))]
    assert titles(search(entries, Wants(most_footprint_m=(0.35, 0.5)))) == ["Loudspeaker"]
    assert titles(search(entries, Wants(most_footprint_m=(0.5, 0.3)))) == ["Loudspeaker"]
    assert search(entries, Wants(most_footprint_m=(0.45, 0.45))) == ()
    assert titles(search(entries, Wants(most_mass_kg=20.0))) == ["Loudspeaker"]
    assert search(entries, Wants(most_mass_kg=19.9)) == ()


def test_that_all_words_must_stand_in_the_name_in_whatever_order_and_letters():
    assert titles(search(ENTRIES, Wants(words="HORNS straight 104"))) == ["Three straight horns, 104 dB"]
    assert search(ENTRIES, Wants(words="straight transistor")) == ()
    # Typed with the compatibility form of a superscript two, or with a plain one.
    assert titles(search(ENTRIES, Wants(words="2.5 mm2"))) == ["Copper, 2.5 mm², 5 m"]


def test_that_a_kind_alone_gives_all_of_it_and_nothing_asked_gives_everything():
    assert len(search(ENTRIES, Wants(kind="cable"))) == 8
    everything = search(ENTRIES, Wants())
    assert len(everything) == len(ENTRIES)
    kinds = [one.entry.kind for one in everything]
    assert kinds == sorted(kinds, key=["loudspeaker", "amplifier", "source", "cable", "material"].index)


def test_that_wants_add_up():
    wants = Wants(least_sensitivity_db=95.0, most_mass_kg=60.0, words="horn")
    found = search(ENTRIES, wants)
    assert found
    assert all(one.sensitivity_db >= 95.0 and one.mass_kg <= 60.0 for one in found)
    assert all("horn" in name.lower() for name in titles(found))
