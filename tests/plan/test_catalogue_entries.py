"""The entries that travel with the program: whole, invented, physically possible, of use in a room.

Limits of what is possible are common practice, no published source, unless one is named.
"""

import itertools
import re

import numpy as np
import pytest

from planner.acoustics.directivity import pattern_control
from planner.acoustics.levels import efficiency
from planner.headroom import compute
from planner.headroom.catalogue_search import rated_watts, sensitivity_db
from planner.headroom.drive import impedance_at
from planner.headroom.scene import BAND_HZ, scene_of
from planner.headroom.sources import sources_of
from planner.headroom.wired import wired_impedance
from planner.plan import cross_checks, dumps, load, loads
from planner.plan.catalogue import KINDS, built_in_entries, dumps_json, put_into, put_material, title_of
from planner.plan.catalogue.entry import OWN
from planner.plan.loudspeaker import Diaphragm, Dipole, Horn
from planner.resources import demo_rooms, resource_path

ENTRIES = built_in_entries()
BY_KIND = {kind: [entry for entry in ENTRIES if entry.kind == kind] for kind in KINDS}
BY_ID = {entry.id: entry for entry in ENTRIES}
ROOM = load(str(demo_rooms() / "map_room.json"))
SPREADING_HZ = 250.0
"""Bass horns below it are smaller than the wave and spread."""
MATCHING = "push-pull-triodes-20-w"


def each(kind):
    return pytest.mark.parametrize("entry", [pytest.param(one, id=one.id) for one in BY_KIND[kind]])


def loads_of(loudspeaker):
    """The impedance that drives each section."""
    return [loudspeaker.impedance or wired_impedance(section) for section in loudspeaker.sections]


def test_that_there_is_a_choice_of_each_kind():
    assert len(BY_KIND["loudspeaker"]) >= 24 and len(BY_KIND["amplifier"]) >= 20
    assert len(BY_KIND["source"]) == len(BY_KIND["cable"]) == 8
    assert len(BY_KIND["material"]) == 6


def test_that_names_and_ids_are_unique_and_no_id_is_one_of_the_users():
    assert len({(entry.kind, title_of(entry)) for entry in ENTRIES}) == len(ENTRIES) == len(BY_ID)
    assert not any(entry.id.startswith(OWN) for entry in ENTRIES)


def test_that_every_entry_says_that_it_is_invented():
    assert all((entry.note or "").startswith("Invented") for entry in ENTRIES)
    assert all((entry.data.note or "").startswith("Invented.") for entry in BY_KIND["loudspeaker"])


@pytest.mark.parametrize("kind", KINDS)
def test_that_a_table_of_entries_is_written_as_the_program_writes_it(kind):
    text = (resource_path("catalogue") / f"{kind}s.json").read_text(encoding="utf-8")
    assert text == dumps_json(BY_KIND[kind])


def test_that_loudspeakers_span_82_to_110_db():
    levels = sorted(sensitivity_db(entry.data) for entry in BY_KIND["loudspeaker"])
    assert levels[0] == pytest.approx(82.0, abs=0.5) and levels[-1] == pytest.approx(110.0, abs=0.5)
    # None is farther from the next than a designer would call another class.
    assert max(np.diff(levels)) <= 3.1


def test_that_amplifiers_span_1_to_200_w_into_8_ohm():
    watts = sorted(rated_watts(entry.data, 8.0, 3.0)[0] for entry in BY_KIND["amplifier"])
    assert watts[0] == pytest.approx(1.0) and watts[-1] == pytest.approx(200.0)
    assert max(later / earlier for earlier, later in itertools.pairwise(watts)) <= 2.0


def test_that_loudspeakers_are_of_every_sort():
    radiators = {type(section.radiator) for one in BY_KIND["loudspeaker"] for section in one.data.sections}
    boxes = {
        section.limits.box
        for one in BY_KIND["loudspeaker"]
        for section in one.data.sections
        if section.limits
    }
    impedances = [one for entry in BY_KIND["loudspeaker"] for one in loads_of(entry.data)]
    assert radiators == {Diaphragm, Dipole, Horn}
    assert boxes >= {"sealed", "vented", "horn", "open"}
    assert any(one.table for one in impedances) and any(one.driver for one in impedances)
    assert {one.nominal_ohm for one in impedances} >= {4.0, 8.0, 16.0}
    assert any(entry.data.impedance is None for entry in BY_KIND["loudspeaker"])


@each("loudspeaker")
def test_that_the_level_in_a_loudspeakers_name_is_its_level_for_1_w(entry):
    named = float(re.search(r"(\d+) dB$", entry.data.name)[1])
    assert sensitivity_db(entry.data) == pytest.approx(named, abs=0.5)


@each("amplifier")
def test_that_the_watts_in_an_amplifiers_name_are_its_rating_into_8_ohm_at_3_percent(entry):
    named = float(re.search(r"([\d.]+) W$", entry.data.name)[1])
    assert rated_watts(entry.data, 8.0, 3.0)[0] == pytest.approx(named)


@each("loudspeaker")
def test_that_no_section_radiates_more_than_a_quarter_of_what_it_is_given(entry):
    # Below 50 % is the limit of any radiator matched to its amplifier (Beranek and Mellow, Acoustics, chapter
    # 9); a quarter is what the best horns reach in practice. Power at 1 m with the baffle step in both.
    loudspeaker = entry.data
    sources = sources_of(loudspeaker, loads_of(loudspeaker), scene_of(ROOM))
    watt = sources.flat * sources.response * sources.step * sources.one_watt_volts[:, None]
    shares = efficiency(20.0 * np.log10(watt), sources.directivity_factor)
    for section, share in zip(loudspeaker.sections, shares, strict=True):
        inside = (section.low_hz <= BAND_HZ) & (section.high_hz >= BAND_HZ)
        most = {"diaphragm": 0.06, "dipole": 0.04, "horn": 0.25}[section.radiator.kind]
        assert 0.0 < share[inside].max() < most, section.name


@pytest.mark.parametrize(
    "section",
    [
        pytest.param(section, id=f"{entry.id}: {section.name}")
        for entry in BY_KIND["loudspeaker"]
        for section in entry.data.sections
        if isinstance(section.radiator, Horn) and section.low_hz > SPREADING_HZ
    ],
)
def test_that_a_horn_holds_its_angle_where_it_takes_over(section):
    # Keele 1975: 25 400 / (mouth × angle). Sideways within its band; up and down common horns let go earlier.
    radiator = section.radiator
    sideways = pattern_control(radiator.mouth_width_m, radiator.horizontal_deg)
    upward = pattern_control(radiator.mouth_height_m, radiator.vertical_deg)
    assert sideways < 1.1 * section.low_hz and upward < 3.1 * section.low_hz


STRAIGHT = [one for one in BY_KIND["loudspeaker"] if "straight horns" in title_of(one).lower()]


@pytest.mark.parametrize("entry", STRAIGHT, ids=lambda one: one.id)
def test_that_the_mouth_of_a_straight_bass_horn_is_large_enough_for_its_lowest_note(entry):
    # Circumference of a wavelength, in a quarter of a space (floor and wall): area λ²/(16 π).
    bass = entry.data.sections[0]
    wave_m = 343.2 / bass.low_hz
    assert bass.radiator.mouth_width_m * bass.radiator.mouth_height_m > wave_m**2 / (16.0 * np.pi)


@each("loudspeaker")
def test_that_impedance_keeps_to_the_standard_unless_the_name_warns_of_a_dip(entry):
    # IEC 60268-5, 16.1: nowhere below 80 % of the rated value.
    for impedance in loads_of(entry.data):
        lowest = np.abs(impedance_at(impedance, np.geomspace(20.0, 20_000.0, 200))).min()
        assert (lowest >= 0.8 * impedance.nominal_ohm) != ("dip" in entry.data.name)


@each("loudspeaker")
def test_that_what_is_on_a_loudspeaker_fits_on_it_and_it_has_limits(entry):
    loudspeaker = entry.data
    width, depth = loudspeaker.footprint_m
    assert loudspeaker.baffle_width_m <= width
    assert 1.0 <= loudspeaker.mass_kg / (width * depth) <= 400.0
    for section in loudspeaker.sections:
        radiator, limits = section.radiator, section.limits
        across = getattr(radiator, "diameter_m", getattr(radiator, "mouth_width_m", 0.0))
        assert across <= width
        assert limits.long_term_w > 0.0
        low_diaphragm = isinstance(radiator, Diaphragm) and section.low_hz < 150.0
        assert not low_diaphragm or limits.xmax_mm is not None


@each("loudspeaker")
def test_that_a_band_is_possible_for_what_radiates_it(entry):
    sections = entry.data.sections
    assert 30.0 <= sections[0].low_hz <= 100.0 and 13_000.0 <= sections[-1].high_hz <= 22_000.0
    for section in sections:
        if isinstance(section.radiator, Diaphragm) and section.name != "Wide-band":
            # Wavelength at the upper edge against the diameter: cones of 0.3 m are crossed below 2 kHz or so.
            assert section.high_hz * section.radiator.diameter_m < 1100.0


@each("amplifier")
def test_that_more_distortion_buys_more_watts_and_output_impedance_goes_with_the_tap(entry):
    for ohm in {tap.ohm for tap in entry.data.taps}:
        taps = sorted((tap for tap in entry.data.taps if tap.ohm == ohm), key=lambda tap: tap.watts)
        assert [tap.distortion_pct for tap in taps] == sorted(tap.distortion_pct for tap in taps)
    if entry.data.output == "transformer":
        ratios = [tap.output_ohm / tap.ohm for tap in entry.data.taps]
        assert np.ptp(ratios) < 1e-3


@each("amplifier")
def test_that_triodes_and_transistors_have_the_output_impedance_of_their_kind(entry):
    behind_eight = next(tap.output_ohm for tap in entry.data.taps if tap.ohm == 8.0)
    feedback = (
        "with" in entry.data.name and "feedback" in entry.data.name and "without" not in entry.data.name
    )
    if entry.data.output == "direct":
        assert behind_eight <= 0.5 and (behind_eight <= 0.1 or "without feedback" in entry.data.name)
    elif feedback:
        assert 0.4 <= behind_eight <= 1.2
    else:
        assert 1.4 <= behind_eight <= 4.0


@each("amplifier")
def test_that_an_amplifier_says_all_that_noise_gain_and_weight_ask(entry):
    amplifier = entry.data
    residual = amplifier.residual
    assert 0.0 < residual.hum_mv <= 2.0 and 0.0 < residual.hiss_mv <= 0.2
    assert 12.0 <= amplifier.gain_db <= 30.0
    hard = "with feedback" in amplifier.name or (
        amplifier.output == "direct" and "without feedback" not in amplifier.name
    )
    assert amplifier.overload == ("hard" if hard else "soft")
    assert amplifier.mass_kg and amplifier.footprint_m


@each("amplifier")
def test_that_watts_into_a_rated_load_are_its_rating_but_for_the_swing_of_other_loads(entry):
    # Design: with a direct output the largest volts and amps of all ratings count together.
    for tap in entry.data.taps:
        watts, _ = rated_watts(entry.data, tap.ohm, tap.distortion_pct)
        assert tap.watts * (1.0 - 1e-9) <= watts <= 1.08 * tap.watts


@each("loudspeaker")
def test_that_a_loudspeaker_computes_in_a_room_with_a_matching_amplifier(entry):
    plan = put_into(put_into(ROOM, 0, entry), 0, BY_ID[MATCHING])
    assert cross_checks(plan) == ()
    outcome = compute(plan, 0)
    assert all(np.isfinite(seat.headroom_db) for seat in outcome.seats)
    assert loads(dumps(plan)) == plan


@each("amplifier")
def test_that_an_amplifier_computes_in_a_room_with_an_efficient_loudspeaker(entry):
    plan = put_into(put_into(ROOM, 0, BY_ID["three-straight-horns-104-db"]), 0, entry)
    assert cross_checks(plan) == ()
    # With 104 dB for a watt even the single watt is enough in the smallest room, to a hair.
    assert compute(plan, 0).worst.headroom_db > -0.5


@pytest.mark.parametrize("entry", [*BY_KIND["source"], *BY_KIND["cable"]], ids=lambda one: one.id)
def test_that_sources_and_cables_compute_in_a_room(entry):
    plan = put_into(ROOM, 0, entry)
    assert cross_checks(plan) == ()
    assert np.isfinite(compute(plan, 0).worst.headroom_db)


@each("material")
def test_that_materials_compute_in_a_room_and_absorb_less_than_all(entry):
    plan = put_material(ROOM, ("room", "surfaces", "ceiling", 0), entry)
    assert cross_checks(plan) == ()
    assert np.isfinite(compute(plan, 0).worst.headroom_db)
    assert all(0.0 < value <= 1.0 for value in entry.data.absorption.values())


def test_that_cartridges_are_of_two_families_and_their_stages_bring_them_to_one_level():
    phono = [entry.data for entry in BY_KIND["source"] if entry.data.kind == "phono"]
    magnets = [one for one in phono if one.cartridge_mv > 1.0]
    coils = [one for one in phono if one.cartridge_mv < 1.0]
    assert magnets and coils
    assert all(2.0 <= one.cartridge_mv <= 5.0 for one in magnets)
    assert all(0.2 <= one.cartridge_mv <= 0.5 for one in coils)
    # By hand: 4 mV × 100 = 0.4 V.
    volts = [one.cartridge_mv / 1000.0 * 10.0 ** (one.phono_gain_db / 20.0) for one in phono]
    assert all(0.35 <= one <= 0.55 for one in volts)


def test_that_the_story_of_efficiency_is_in_the_catalogue():
    def headroom_db(loudspeaker, amplifier):
        plan = put_into(put_into(ROOM, 0, BY_ID[loudspeaker]), 0, BY_ID[amplifier])
        return compute(plan, 0).worst.headroom_db

    few = headroom_db("four-straight-horns-106-db", "single-triode-1-6-w")
    many = headroom_db("small-vented-two-way-86-db", "transistor-amplifier-100-w")
    short = headroom_db("small-vented-two-way-86-db", "single-triode-8-w")
    assert few > 3.0 and many > 3.0 and short < 0.0
