"""What a loudspeaker's sections stand: programme power for hours, peaks, and diaphragm travel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.air import density
from planner.acoustics.excursion import FULL_SPACE_SR, diaphragm_excursion, vented_share
from planner.headroom.capability import Capability, capability
from planner.headroom.scene import BAND_HZ
from planner.plan.loudspeaker import Diaphragm, Impedance, Limits, Loudspeaker, Section

__all__ = ["section_capabilities"]

FloatArray = NDArray[np.float64]

NOISE_PEAK_RATIO = 4.0
"""Peak over long-term power where only the latter is given: noise of 6 dB crest (AES2, IEC 60268-5)."""
REFERENCE_PA = 20e-6


def section_capabilities(
    loudspeaker: Loudspeaker,
    loads: list[Impedance],
    volts: FloatArray,
    pressure: FloatArray,
    crests_db: Sequence[float],
    air: tuple[float, float],
) -> tuple[Capability, ...]:
    """The limits of every section that states some.

    Parameters
    ----------
    loudspeaker : Loudspeaker
        Its sections carry the limits.
    loads : list of Impedance
        The impedance whose nominal value each section's power is reckoned in (S).
    volts : array (S, B)
        rms at each section behind its inner edges, for a programme of 1 V EMF [V].
    pressure : array (S, B)
        rms on axis at 1 m, for the same programme, re 20 µPa.
    crests_db : sequence of float (S)
        Crest factor of what each section gets [dB].
    air : tuple
        Temperature [°C] and pressure [kPa].
    """
    found: list[Capability] = []
    for index, section in enumerate(loudspeaker.sections):
        if section.limits is not None:
            crest = 10.0 ** (crests_db[index] / 20.0)
            found += _powers(section, section.limits, loads[index].nominal_ohm, volts[index], crest)
            found += _travel(section, section.limits, loudspeaker, pressure[index] * crest, air)
    return tuple(found)


def _powers(
    section: Section, limits: Limits, nominal_ohm: float, volts: FloatArray, crest: float
) -> Iterator[Capability]:
    peak_w = NOISE_PEAK_RATIO * limits.long_term_w if limits.peak_w is None else limits.peak_w
    share = volts**2
    yield capability(section.name, "long-term power", np.sqrt(limits.long_term_w * nominal_ohm), share)
    yield capability(section.name, "peak power", np.sqrt(peak_w * nominal_ohm) / crest, share)


def _travel(
    section: Section,
    limits: Limits,
    loudspeaker: Loudspeaker,
    peak_pressure: FloatArray,
    air: tuple[float, float],
) -> Iterator[Capability]:
    """Excursion of a direct radiator; a horn-loaded diaphragm is not judged here."""
    radiator = section.radiator
    if limits.xmax_mm is None or limits.box == "horn" or not isinstance(radiator, Diaphragm):
        return
    area = radiator.count * np.pi * radiator.diameter_m**2 / 4.0
    space = FULL_SPACE_SR / 2.0 if loudspeaker.baffle_width_m == "wall" else FULL_SPACE_SR
    travel = diaphragm_excursion(peak_pressure * REFERENCE_PA, BAND_HZ, area, density(*air), space)
    if limits.tuning_hz is not None:
        travel = travel * vented_share(BAND_HZ, limits.tuning_hz)
    yield capability(section.name, "excursion", limits.xmax_mm / 1000.0, np.asarray(travel) ** 2)
