"""Whom a horn covers, and how far away a loudspeaker must be heard to be one source."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.directivity import coverage_factor, horn_off_axis, piston_factor
from planner.headroom.placed import placed
from planner.headroom.scene import Scene, scene_of
from planner.headroom.sources import coverage_of
from planner.plan import Plan, PlanError, cross_checks
from planner.plan.loudspeaker import Diaphragm, Dipole, Horn, Loudspeaker, Section
from planner.plan.model import Stand

__all__ = ["AT_HZ", "HornCoverage", "LeastDistance", "far_field_distance", "horn_coverage", "least_distances"]

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

AT_HZ = (2000.0, 4000.0, 8000.0)
TIMES_SIZE = 3.0
_LOWEST_HZ, _HIGHEST_HZ = 20.0, 20_000.0


@dataclass(frozen=True, slots=True, eq=False)
class HornCoverage:
    """One horn section on one stand, at those of 2, 4 and 8 kHz that it plays (f,).

    ``azimuth_deg`` and ``elevation_deg`` are where it points; between ``half_horizontal_deg`` (f,) to
    either side, and ``half_vertical_deg`` (f,) up and down, it is at most 6 dB down. ``loss_db`` (f, K) is
    its level toward each seat re its axis, and ``outside`` (f, K) whether that is beyond the 6 dB.
    """

    stand: str
    section: str
    azimuth_deg: float
    elevation_deg: float
    frequency_hz: FloatArray
    half_horizontal_deg: FloatArray
    half_vertical_deg: FloatArray
    loss_db: FloatArray
    outside: BoolArray


@dataclass(frozen=True, slots=True)
class LeastDistance:
    """From where on the loudspeaker on one stand is one source whose level falls as 1/r.

    ``rule`` says what asks for it: ``size``, three times the largest size or spacing of its sections
    (common practice, no published source), or ``piston``, the far field of ``part``. ``nearer`` are the
    seats that are nearer.
    """

    stand: str
    distance_m: float
    rule: Literal["size", "piston"]
    part: str
    nearer: tuple[str, ...]


def horn_coverage(plan: Plan, candidate: int = 0) -> tuple[HornCoverage, ...]:
    """Every horn section of a candidate, stand by stand.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    plan = placed(plan, candidate)
    scene = _scene(plan)
    loudspeaker = plan.candidates[candidate].loudspeaker
    return tuple(
        _covered(section, section.radiator, stand.name, scene, index)
        for index, stand in enumerate(plan.stands)
        for section in _on(stand, loudspeaker)
        if isinstance(section.radiator, Horn) and _played(section).size
    )


def least_distances(plan: Plan, candidate: int = 0) -> tuple[LeastDistance, ...]:
    """The least distance for each stand that carries sections of known size.

    Sections stand on one another, as the plan does not say how they are set up: the centres of
    neighbours are half of both their heights apart.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    plan = placed(plan, candidate)
    scene = _scene(plan)
    loudspeaker = plan.candidates[candidate].loudspeaker
    found = []
    for index, stand in enumerate(plan.stands):
        rules = _rules(_on(stand, loudspeaker), loudspeaker, scene.sound_speed)
        if rules:
            distance, rule, part = max(rules)
            near = np.flatnonzero(scene.distance_m[:, index] < distance)
            names = tuple(plan.seats[seat].name for seat in near)
            found.append(LeastDistance(stand.name, distance, rule, part, names))
    return tuple(found)


def far_field_distance(area_m2: float, directivity_factor: float, wavelength_m: float) -> float:
    """Distance from which the level of a flat round piston falls as 1/r on its axis.

    r = A / wavelength, where the axial pressure is within 0.4 dB of its 1/r law. A source that is less
    sharp than a flat piston of its size, as a horn that holds its angle, counts as the piston that is as
    sharp: A is at most Q wavelength^2 / (4 pi).

    Parameters
    ----------
    area_m2 : float
        Area of the mouth or diaphragm, above 0 [m^2].
    directivity_factor : float
        Q re full space, above 0 [dimensionless].
    wavelength_m : float
        Wavelength, above 0 [m].

    Returns
    -------
    float
        Distance [m].

    References
    ----------
    Kinsler, Frey, Coppens and Sanders, Fundamentals of Acoustics, 4th ed., section 7.4 (axial response);
    the area of equal sharpness: Q = 4 pi A / wavelength^2 there, common practice for horns.

    Examples
    --------
    By hand: 0.3 m across are 0.0707 m^2, over a wavelength of 0.1 m. As a horn of Q 10: 10 x 0.01 / 12.57
    is 0.008 m^2.

    >>> print(f"{far_field_distance(0.0707, 90.0, 0.1):.3f} m, {far_field_distance(0.0707, 10.0, 0.1):.3f} m")
    0.707 m, 0.080 m
    """
    as_sharp_m2 = directivity_factor * wavelength_m**2 / (4.0 * np.pi)
    return float(min(area_m2, as_sharp_m2) / wavelength_m)


def _scene(plan: Plan) -> Scene:
    findings = cross_checks(plan)
    if findings:
        raise PlanError(findings)
    return scene_of(plan)


def _on(stand: Stand, loudspeaker: Loudspeaker) -> list[Section]:
    """The sections that a stand carries."""
    return [one for one in loudspeaker.sections if stand.carries is None or one.name in stand.carries]


def _played(section: Section) -> FloatArray:
    return np.array([hz for hz in AT_HZ if section.low_hz <= hz <= section.high_hz])


def _covered(section: Section, horn: Horn, stand: str, scene: Scene, index: int) -> HornCoverage:
    frequency = _played(section)
    horizontal, vertical = coverage_of(horn, frequency)
    azimuth, elevation = scene.azimuth_deg[:, index], scene.elevation_deg[:, index]
    planes = horizontal[:, None], vertical[:, None]
    x, y, z = scene.axis[index]
    beyond = (2.0 * azimuth / planes[0]) ** 2 + (2.0 * elevation / planes[1]) ** 2
    return HornCoverage(
        stand=stand,
        section=section.name,
        azimuth_deg=float(np.degrees(np.arctan2(y, x))),
        elevation_deg=float(np.degrees(np.arctan2(z, np.hypot(x, y)))),
        frequency_hz=frequency,
        half_horizontal_deg=horizontal / 2.0,
        half_vertical_deg=vertical / 2.0,
        loss_db=np.asarray(horn_off_axis(azimuth, elevation, *planes)),
        outside=beyond > 1.0 + 1e-9,
    )


def _rules(
    sections: list[Section], loudspeaker: Loudspeaker, sound_speed: float
) -> list[tuple[float, Literal["size", "piston"], str]]:
    """What each section, and each pair of neighbours, asks for: distance [m], rule and part."""
    extents = {one.name: _extent(one, loudspeaker) for one in sections}
    sized = [one for one in sections if max(extents[one.name]) > 0.0]
    rules: list[tuple[float, Literal["size", "piston"], str]] = []
    for one in sized:
        rules.append((TIMES_SIZE * max(extents[one.name]), "size", one.name))
        rules.append((_far_field(one, sound_speed), "piston", one.name))
    for lower, upper in itertools.pairwise(sized):
        spacing = (extents[lower.name][1] + extents[upper.name][1]) / 2.0
        rules.append((TIMES_SIZE * spacing, "size", f"{lower.name}, {upper.name}"))
    return rules


def _extent(section: Section, loudspeaker: Loudspeaker) -> tuple[float, float]:
    """Width and height of what radiates, 0 where the plan does not say [m]."""
    radiator, baffle = section.radiator, loudspeaker.baffle_width_m
    if isinstance(radiator, Horn):
        return radiator.mouth_width_m, radiator.mouth_height_m
    if isinstance(radiator, Diaphragm):
        across = radiator.diameter_m * float(np.sqrt(radiator.count))
        return across, across
    if isinstance(radiator, Dipole) and not isinstance(baffle, str):
        return baffle, baffle
    return 0.0, 0.0


def _far_field(section: Section, sound_speed: float) -> float:
    """The longest far-field distance within the section's band, 0 where it has no area of its own [m]."""
    low, high = max(section.low_hz, _LOWEST_HZ), min(section.high_hz, _HIGHEST_HZ)
    if low > high:
        return 0.0
    hz = np.geomspace(low, high, 61)
    area_m2, factor = _area_and_factor(section, hz, sound_speed)
    return max(
        far_field_distance(area_m2, q, sound_speed / f)
        for q, f in zip(factor.tolist(), hz.tolist(), strict=True)
    )


def _area_and_factor(section: Section, hz: FloatArray, sound_speed: float) -> tuple[float, FloatArray]:
    radiator = section.radiator
    if isinstance(radiator, Horn):
        factor = np.asarray(coverage_factor(*coverage_of(radiator, hz)))
        return radiator.mouth_width_m * radiator.mouth_height_m, factor
    if isinstance(radiator, Diaphragm):
        radius = radiator.diameter_m / 2.0 * float(np.sqrt(radiator.count))
        return np.pi * radius**2, np.asarray(piston_factor(2.0 * np.pi * hz / sound_speed * radius))
    return 0.0, np.ones(hz.shape)
