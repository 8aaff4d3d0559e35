"""What stands between amplifier and loudspeaker: cable loss, damping, and the bend of the response."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import Drive, cable_ohm, impedance_at
from planner.headroom.system import System
from planner.plan.amplifier import Cable

__all__ = ["Bend", "Wiring", "bend_db", "cable_loss_db", "damping_factor", "loop_ohm", "wirings"]

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]
AUDIBLE_HZ = (20.0, 20_000.0)
POINTS_PER_DECADE = 160


@dataclass(frozen=True, slots=True, eq=False)
class Bend:
    """A frequency response as series resistance bends it, re that into the nominal impedance (F,) [dB]."""

    response_db: FloatArray

    @property
    def peak_to_peak_db(self) -> float:
        """From its lowest to its highest point [dB]."""
        return float(np.ptp(self.response_db))


@dataclass(frozen=True, slots=True, eq=False)
class Wiring:
    """One amplifier, its cable and what it drives.

    ``damping_factor`` is the nominal impedance over all that lies in series with it, infinite if that is
    nothing, ``damping_at_terminals`` the amplifier's alone. ``cable_loss_db`` is what the cable takes
    from the volts of the nominal impedance. The bends, over ``frequency_hz`` (F,), are of output
    impedance and cable together, and of each alone; they cover the part of 20 Hz to 20 kHz that this
    amplifier plays.
    """

    amplifier: str
    nominal_ohm: float
    output_ohm: float
    loop_ohm: float
    damping_factor: float
    damping_at_terminals: float
    cable_loss_db: float
    frequency_hz: FloatArray
    together: Bend
    without_cable: Bend
    cable_alone: Bend


def wirings(system: System, copper_c: float | None = None) -> tuple[Wiring, ...]:
    """Every amplifier's wiring; the copper at a temperature [°C], that of the plan unless given."""
    loop = loop_ohm(system.candidate.cable, copper_c)
    return tuple(_wiring(drive, loop, _span(system, drive)) for drive in system.drives)


def loop_ohm(cable: Cable | None, copper_c: float | None = None) -> float:
    """Resistance of both conductors [ohm]; a stated loop resistance is taken as it is."""
    if cable is None or cable.loop_ohm is not None or copper_c is None:
        return cable_ohm(cable)
    return cable_ohm(cable.model_copy(update={"copper_c": copper_c}))


def damping_factor(nominal_ohm: float, series_ohm: float) -> float:
    """Nominal impedance over the resistance in series with it; infinite where there is none.

    >>> damping_factor(8.0, 3.2)
    2.5
    """
    return nominal_ohm / series_ohm if series_ohm > 0.0 else float("inf")


def cable_loss_db(load_ohm: float, loop: float, output_ohm: float = 0.0) -> float:
    """Level lost in a cable of a loop resistance before a load [dB], positive.

    By hand: 0.4 ohm before 8 ohm leave 8/8.4 of the volts.

    >>> print(f"{cable_loss_db(8.0, 0.4):.3f} dB")
    0.424 dB
    """
    return float(20.0 * np.log10(1.0 + loop / (load_ohm + output_ohm)))


def bend_db(load_ohm: ComplexArray, nominal_ohm: float, series_ohm: float) -> FloatArray:
    """Volts at a load behind a resistance, against those at its nominal impedance (F,) [dB].

    By hand: 3 ohm before 32 ohm leave 0.914 of the volts, before the nominal 8 ohm 0.727.

    >>> print(np.round(bend_db(np.array([8.0 + 0j, 32.0 + 0j]), 8.0, 3.0), 2))
    [0.   1.99]
    """
    reached = np.abs(load_ohm / (load_ohm + series_ohm)) * (1.0 + series_ohm / nominal_ohm)
    return np.asarray(20.0 * np.log10(reached))


def _wiring(drive: Drive, loop: float, span_hz: tuple[float, float]) -> Wiring:
    nominal, output = drive.load.nominal_ohm, drive.rating.output_ohm
    points = max(2, round(POINTS_PER_DECADE * float(np.log10(span_hz[1] / span_hz[0]))) + 1)
    frequency = np.geomspace(*span_hz, points)
    load = impedance_at(drive.load, frequency)
    return Wiring(
        amplifier=drive.amplifier.name,
        nominal_ohm=nominal,
        output_ohm=output,
        loop_ohm=loop,
        damping_factor=damping_factor(nominal, output + loop),
        damping_at_terminals=damping_factor(nominal, output),
        cable_loss_db=cable_loss_db(nominal, loop, output),
        frequency_hz=frequency,
        together=Bend(bend_db(load, nominal, output + loop)),
        without_cable=Bend(bend_db(load, nominal, output)),
        cable_alone=Bend(bend_db(load, nominal, loop)),
    )


def _span(system: System, drive: Drive) -> tuple[float, float]:
    """The part of 20 Hz to 20 kHz that an amplifier plays; the whole of it if that is nothing."""
    if drive.amplifier.drives == "all":
        return AUDIBLE_HZ
    sections = system.candidate.loudspeaker.sections
    section = next(one for one in sections if one.name == drive.amplifier.drives)
    low, high = max(section.low_hz, AUDIBLE_HZ[0]), min(section.high_hz, AUDIBLE_HZ[1])
    return (low, high) if low < high else AUDIBLE_HZ
