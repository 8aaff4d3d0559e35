"""What stands on the floor and how it loads it, beside common code values: no structural check."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Candidate

__all__ = ["CODE_LOADS", "NO_STRUCTURAL_CHECK", "CodeLoad", "FloorLoad", "floor_loads", "kn_per_m2", "psf"]

GRAVITY = 9.80665  # m/s², standard
KN_M2_PER_PSF = 0.04788026  # 0.45359237 kg x 9.80665 m/s² / (0.3048 m)²
NO_STRUCTURAL_CHECK = "no_structural_check"
"""Key of the caution: a mean under one footprint says nothing of joists, span, point loads, furniture."""


@dataclass(frozen=True, slots=True)
class CodeLoad:
    """A uniform load that a building code designs floors for: from, to [kN/m²], and who says so."""

    key: str
    low_kn_m2: float
    high_kn_m2: float
    source: str


@dataclass(frozen=True, slots=True)
class FloorLoad:
    """One thing on the floor or shelf: mass [kg], footprint [m²] and the mean load under it.

    ``above`` are the keys of the code values that the load exceeds; for a range, its upper end.
    """

    name: str
    part: str
    mass_kg: float
    area_m2: float
    load_kn_m2: float
    load_psf: float
    above: tuple[str, ...]


def kn_per_m2(mass_kg: float, area_m2: float) -> float:
    """Mean load of a mass on an area [kN/m²].

    By hand: 100 kg on 0.5 × 0.4 m are 980.7 N on 0.2 m².

    >>> print(f"{kn_per_m2(100.0, 0.2):.3f} kN/m2")
    4.903 kN/m2
    """
    return mass_kg * GRAVITY / area_m2 / 1000.0


def psf(load_kn_m2: float) -> float:
    """A load in pounds-force per square foot.

    By hand: 1.9152 kN/m² are 40.

    >>> print(f"{psf(1.9152):.2f} psf")
    40.00 psf
    """
    return load_kn_m2 / KN_M2_PER_PSF


CODE_LOADS = (
    CodeLoad("rooms", 40.0 * KN_M2_PER_PSF, 40.0 * KN_M2_PER_PSF, "IRC table R301.5: 40 psf"),
    CodeLoad("sleeping_rooms", 30.0 * KN_M2_PER_PSF, 30.0 * KN_M2_PER_PSF, "IRC table R301.5: 30 psf"),
    CodeLoad("dwellings", 1.5, 2.0, "EN 1991-1-1 table 6.2, category A: 1.5 to 2.0 kN/m², from memory"),
)
"""Minimum design loads of floors in dwellings, spread over the whole floor."""


def floor_loads(candidate: Candidate) -> tuple[FloorLoad, ...]:
    """One of the loudspeakers, then the amplifiers; what lacks mass or footprint is left out."""
    things: list[tuple[str, Loudspeaker | Amplifier]] = [
        ("loudspeaker", candidate.loudspeaker),
        *(("amplifier", one) for one in candidate.amplifiers),
    ]
    return tuple(
        _floor_load(part, thing.name, thing.mass_kg, thing.footprint_m[0] * thing.footprint_m[1])
        for part, thing in things
        if thing.mass_kg is not None and thing.footprint_m is not None
    )


def _floor_load(part: str, name: str, mass_kg: float, area_m2: float) -> FloorLoad:
    load = kn_per_m2(mass_kg, area_m2)
    above = tuple(one.key for one in CODE_LOADS if load > one.high_kn_m2)
    return FloorLoad(name, part, mass_kg, area_m2, load, psf(load), above)
