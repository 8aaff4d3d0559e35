"""A loudspeaker as arrays by section and band: pressure for a volt, directivity, loss off axis."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics import directivity
from planner.acoustics.bands import interpolate
from planner.headroom.scene import Scene
from planner.headroom.wired import wired_gain
from planner.plan.loudspeaker import Diaphragm, Dipole, Horn, Impedance, Loudspeaker, Section

__all__ = ["Sources", "coverage_of", "edge_gain", "ka_of", "reference_volts", "sources_of"]

FloatArray = NDArray[np.float64]
EIGHT_OHM_WATT_VOLTS = np.sqrt(8.0)
"""The "2.83 V" of the trade: 1 W in 8 ohm."""


@dataclass(frozen=True, slots=True, eq=False)
class Sources:
    """Arrays over sections (S), seats (K), stands (N) and bands (B).

    ``flat`` is the pressure at 1 m on axis, re 20 µPa, for 1 V, by the stated level alone;
    ``inner`` and ``outer`` the gains of crossover and outer edges; ``response`` and ``step`` the
    gains of the response table and of the baffle step; all (S, B). ``power_step_db`` (S, B) is the
    step as the directivity sees it, ``directivity_factor`` (S, B), ``loss`` (S, K, N, B) the
    amplitude off axis against on axis, ``one_watt_volts`` and whether it is a ``dipole`` (S,).
    ``wall_share`` is the share of the power that is the loudspeaker's own and not a wall's image.
    """

    flat: FloatArray
    inner: FloatArray
    outer: FloatArray
    response: FloatArray
    step: FloatArray
    directivity_factor: FloatArray
    loss: FloatArray
    one_watt_volts: FloatArray
    dipole: NDArray[np.bool_]
    wall_share: float

    @property
    def pressure(self) -> FloatArray:
        """On-axis pressure at 1 m for 1 V with everything in it, re 20 µPa, (S, B)."""
        return self.flat * self.inner * self.outer * self.response * self.step


def sources_of(loudspeaker: Loudspeaker, driven: list[Impedance], scene: Scene) -> Sources:
    """The sections of a loudspeaker; *driven* is the impedance that drives each section (S)."""
    sections, hz = loudspeaker.sections, scene.band_hz
    one_watt = np.sqrt([impedance.nominal_ohm for impedance in driven])
    step_db = np.array([_step_db(loudspeaker, section, hz) for section in sections])
    on_axis_step = step_db if loudspeaker.radiates_into == "half_space" else np.zeros_like(step_db)
    edges = [_edges(sections, index, hz) for index in range(len(sections))]
    factor = np.array([_directivity_factor(section, scene) for section in sections])
    return Sources(
        flat=np.array(
            [[_per_volt(section, volts)] for section, volts in zip(sections, one_watt, strict=True)]
        )
        * np.ones(hz.shape),
        inner=np.array([inner for inner, _ in edges]),
        outer=np.array([outer for _, outer in edges]),
        response=np.array([_response(section, hz) for section in sections]),
        step=10.0 ** (on_axis_step / 20.0),
        directivity_factor=factor * 10.0 ** (step_db / 20.0),
        loss=10.0 ** (np.array([_loss_db(section, scene) for section in sections]) / 20.0),
        one_watt_volts=one_watt,
        dipole=np.array([isinstance(section.radiator, Dipole) for section in sections]),
        wall_share=0.5 if loudspeaker.baffle_width_m == "wall" else 1.0,
    )


def reference_volts(section: Section, one_watt_volts: float) -> float:
    """Volts at the loudspeaker for which the section's level is stated [V].

    1 W is into what the amplifier drives; into one driver, where the section is wired of several.
    """
    if section.sensitivity.drive == "2.83 V":
        return float(EIGHT_OHM_WATT_VOLTS)
    if section.wiring is not None and section.impedance is not None:
        return float(np.sqrt(section.impedance.nominal_ohm))
    return one_watt_volts


def edge_gain(frequency_hz: FloatArray, edge_hz: float, slope_db: float, side: str) -> FloatArray:
    """Gain 1/(1 + (f/fc)^n) of a band edge, n = slope/6; a ``"low"`` edge mirrors a ``"high"`` one."""
    ratio = frequency_hz / edge_hz if side == "high" else edge_hz / frequency_hz
    with np.errstate(over="ignore"):
        return np.asarray(1.0 / (1.0 + ratio ** (slope_db / 6.0)))


def _per_volt(section: Section, one_watt_volts: float) -> float:
    pressure = float(10.0 ** (section.sensitivity.level_db / 20.0)) * wired_gain(section)
    return pressure / reference_volts(section, one_watt_volts)


def _edges(sections: tuple[Section, ...], index: int, hz: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Gains of the inner (crossover) and of the outer edges of one section, each (B,)."""
    section = sections[index]
    low_slope, high_slope = section.slopes_db_per_octave
    low = edge_gain(hz, section.low_hz, low_slope, "low")
    high = edge_gain(hz, section.high_hz, high_slope, "high")
    one = np.ones(hz.shape)
    low_inner, high_inner = index > 0, index < len(sections) - 1
    inner = (low if low_inner else one) * (high if high_inner else one)
    outer = (one if low_inner else low) * (one if high_inner else high)
    return inner, outer


def _response(section: Section, hz: FloatArray) -> FloatArray:
    if section.response is None:
        return np.ones(hz.shape)
    table_hz, table_db = np.array(section.response).T
    return np.asarray(10.0 ** (interpolate(hz, table_hz, table_db) / 20.0))


def _step_db(loudspeaker: Loudspeaker, section: Section, hz: FloatArray) -> FloatArray:
    """Baffle step of one section, re half space [dB], (B,)."""
    width, radiator = loudspeaker.baffle_width_m, section.radiator
    if width == "wall" or isinstance(radiator, Dipole):
        return np.zeros(hz.shape)
    own = 0.0
    if isinstance(radiator, Horn):
        own = radiator.mouth_width_m
    elif isinstance(radiator, Diaphragm):
        own = radiator.diameter_m
    return np.asarray(directivity.baffle_step(hz, max(width, own)))


def ka_of(radiator: Diaphragm, scene: Scene) -> FloatArray:
    """Wave number times the radius of one diaphragm of the total area, (B,)."""
    radius = radiator.diameter_m / 2.0 * np.sqrt(radiator.count)
    return np.asarray(2.0 * np.pi * scene.band_hz / scene.sound_speed * radius)


def coverage_of(radiator: Horn, hz: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Horizontal and vertical coverage by band, widened below pattern control [deg], each (B,)."""
    planes = (
        (radiator.horizontal_deg, radiator.mouth_width_m),
        (radiator.vertical_deg, radiator.mouth_height_m),
    )
    widened = [
        np.asarray(directivity.horn_coverage(hz, angle, directivity.pattern_control(mouth, angle)))
        for angle, mouth in planes
    ]
    return widened[0], widened[1]


def _directivity_factor(section: Section, scene: Scene) -> FloatArray:
    """Directivity factor before the baffle step, (B,)."""
    radiator = section.radiator
    if isinstance(radiator, Horn):
        return np.asarray(directivity.coverage_factor(*coverage_of(radiator, scene.band_hz)))
    if isinstance(radiator, Diaphragm):
        return np.asarray(directivity.piston_factor(ka_of(radiator, scene)))
    return np.full(scene.band_hz.shape, 3.0 if isinstance(radiator, Dipole) else 2.0)


def _loss_db(section: Section, scene: Scene) -> FloatArray:
    """Level off axis against on axis, (K, N, B) [dB]."""
    radiator = section.radiator
    angle = scene.angle_deg[..., None]
    if isinstance(radiator, Horn):
        azimuth, elevation = scene.azimuth_deg[..., None], scene.elevation_deg[..., None]
        return np.asarray(
            directivity.horn_off_axis(azimuth, elevation, *coverage_of(radiator, scene.band_hz))
        )
    if isinstance(radiator, Diaphragm):
        return np.asarray(directivity.piston_off_axis(ka_of(radiator, scene), angle))
    if isinstance(radiator, Dipole):
        return np.asarray(directivity.dipole_off_axis(angle)) * np.ones(scene.band_hz.shape)
    return np.zeros((*scene.angle_deg.shape, scene.band_hz.size))
