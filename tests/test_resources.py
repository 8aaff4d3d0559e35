"""The travelling files: found in both places, whole, and with their sources."""

from pathlib import Path

import pytest

from planner import resources
from planner.resources import OCTAVES, demo_rooms, furnishings, materials, resource_path


def test_that_the_material_table_is_whole():
    assert len(materials()) == 88
    for key, material in materials().items():
        assert material.key == key and material.group and material.description
        assert len(material.absorption) == len(OCTAVES) == 7
        assert all(0.0 <= coefficient <= 1.0 for coefficient in material.absorption)


@pytest.mark.parametrize(
    ("key", "absorption"),
    # Vorlaender, Auralization (2008), annex, by way of an open room-acoustics library.
    [
        ("plasterboard", (0.15, 0.10, 0.06, 0.04, 0.04, 0.05, 0.05)),
        ("carpet_cotton", (0.07, 0.31, 0.49, 0.81, 0.66, 0.54, 0.48)),
        ("glass_3mm", (0.08, 0.04, 0.03, 0.03, 0.02, 0.02, 0.02)),
    ],
)
def test_that_materials_match_their_source(key, absorption):
    assert materials()[key].absorption == absorption


def test_that_a_missing_8_khz_value_holds_that_of_4_khz():
    assert materials()["lead_glazing"].absorption == (0.3, 0.2, 0.14, 0.1, 0.05, 0.05, 0.05)


@pytest.mark.parametrize(
    ("key", "area_m2"),
    # Bies, Hansen and Howard, Engineering Noise Control, 5th ed. (2017), table 6.2; 8 kHz held.
    [
        ("person_seated", (0.23, 0.37, 0.44, 0.45, 0.45, 0.45, 0.45)),
        ("person_standing", (0.15, 0.37, 0.43, 0.44, 0.44, 0.43, 0.43)),
    ],
)
def test_that_people_absorb_what_the_handbook_says(key, area_m2):
    assert furnishings()[key].area_m2 == area_m2


@pytest.mark.parametrize(
    ("seat", "row"),
    [
        ("seat_heavily_upholstered", "chairs_heavy_upholstered"),
        ("seat_cloth", "chairs_upholstered_cloth"),
        ("seat_leather", "chairs_upholstered_leather"),
        ("chair_wooden", "chairs_wooden"),
    ],
)
def test_that_a_single_seat_is_half_of_its_square_metre(seat, row):
    # The material table stands for 2 seats per m2.
    assert row in furnishings()[seat].source
    halves = tuple(coefficient / 2 for coefficient in materials()[row].absorption)
    assert furnishings()[seat].area_m2 == pytest.approx(halves)


def test_that_every_furnishing_says_where_its_figures_come_from():
    assert all(item.source and item.group and item.description for item in furnishings().values())
    assert all(area > 0.0 for item in furnishings().values() for area in item.area_m2)


def test_that_the_licence_notice_travels_with_the_materials():
    notice = resource_path("NOTICE-materials.txt").read_text(encoding="utf-8")
    assert "Permission is hereby granted, free of charge" in notice
    assert "Vorlaender" in notice


def test_that_tables_are_read_once():
    assert materials() is materials()
    assert furnishings() is furnishings()


def test_that_tables_cannot_be_changed_by_a_reader():
    with pytest.raises(TypeError):
        materials()["plasterboard"] = None


def test_that_a_checkout_keeps_its_folders_beside_the_package(monkeypatch, tmp_path):
    monkeypatch.setattr(resources, "files", lambda package: tmp_path)
    top = Path(resources.__file__).parents[1]
    assert resource_path("materials.csv") == top / "resources" / "materials.csv"
    assert demo_rooms() == top / "demo_rooms"


def test_that_an_installed_program_finds_its_folders_inside_the_package(monkeypatch, tmp_path):
    monkeypatch.setattr(resources, "files", lambda package: tmp_path / package)
    (tmp_path / "planner" / "_resources").mkdir(parents=True)
    (tmp_path / "planner" / "_demo_rooms").mkdir()
    assert resource_path("materials.csv") == tmp_path / "planner" / "_resources" / "materials.csv"
    assert demo_rooms() == tmp_path / "planner" / "_demo_rooms"
