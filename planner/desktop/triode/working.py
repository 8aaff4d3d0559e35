"""How a valve stage works: its curves, its load line, its ratings, its watts against the load."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.desktop.triode.stage import ValveStage
from planner.electrics.single_ended import load_line, sine_power
from planner.electrics.transformer import turns_ratio, winding_resistances
from planner.electrics.triode import KNEE, LEAST_DEPTH, STEEPEST, PlateLaw, operating_law, plate_current
from planner.electrics.triode_ratings import triode_ratings
from planner.plan.amplifier import Rating
from planner.report.language import tr

__all__ = ["DISTORTIONS_PCT", "StageFault", "Working", "ratings_of", "work_out"]

FloatArray = NDArray[np.float64]
DISTORTIONS_PCT = (1.0, 3.0, 5.0, 10.0)
CURVES, POINTS = 7, 61
BESIDE_PLATE, BESIDE_CURRENT = 1.08, 1.15
LOADS = np.geomspace(0.25, 8.0, 41)
LEAST_WATTS = 0.001


class StageFault(ValueError):
    """The figures do not make a stage; the message says why, in words."""


@dataclass(frozen=True, slots=True, eq=False)
class Working:
    """A stage worked out.

    ``grid_v`` (G,) and ``plate_v`` (P,) [V] span the curves ``current_ma`` (G, P), ``cycle_v`` and
    ``cycle_ma`` (72,) are one cycle driven to the end of class A1. ``watts`` (n,) [W] are those at
    ``distortion_pct`` (n,), ``output_ohm`` (T,) the output impedance of each tap. ``load_ohm`` (L,) are
    loads on ``load_tap_ohm``, with the watts of class A1 into them and their distortion.
    """

    stage: ValveStage
    grid_v: FloatArray
    plate_v: FloatArray
    current_ma: FloatArray
    cycle_v: FloatArray
    cycle_ma: FloatArray
    distortion_pct: FloatArray
    watts: FloatArray
    output_ohm: FloatArray
    load_tap_ohm: float
    load_ohm: FloatArray
    load_watts: FloatArray
    load_distortion_pct: FloatArray


def work_out(stage: ValveStage) -> Working:
    """Work a stage out; raises :class:`StageFault` where its figures do not fit together."""
    law = _law(stage)
    first, second = winding_resistances(stage.loss_db, stage.primary_ohm, np.array(stage.taps_ohm))
    tap = _middle_tap(stage)
    rated = [
        triode_ratings(
            law,
            stage.plate_v,
            stage.bias_v,
            stage.primary_ohm,
            ohm,
            float(r1),
            float(r2),
            DISTORTIONS_PCT,
        )
        for ohm, r1, r2 in zip(stage.taps_ohm, np.broadcast_to(first, second.shape), second, strict=True)
    ]
    grid, plate, current, cycle = _curves(law, stage, float(np.ravel(first)[0]))
    loads, watts, distortion = _against_load(law, stage, tap)
    return Working(
        stage=stage,
        grid_v=grid,
        plate_v=plate,
        current_ma=current,
        cycle_v=cycle[0],
        cycle_ma=cycle[1],
        distortion_pct=rated[0][2],
        watts=rated[0][1],
        output_ohm=np.array([each[3][0] for each in rated]),
        load_tap_ohm=tap,
        load_ohm=loads,
        load_watts=watts,
        load_distortion_pct=distortion,
    )


def ratings_of(working: Working) -> tuple[Rating, ...]:
    """The ratings as a plan holds them, to three digits that count: estimates deserve no more."""
    rows = {
        _three(float(distortion)): _three(float(watts))
        for distortion, watts in zip(working.distortion_pct, working.watts, strict=True)
        if watts >= LEAST_WATTS
    }
    return tuple(
        Rating(ohm=ohm, watts=watts, distortion_pct=distortion, output_ohm=_three(float(output)))
        for ohm, output in zip(working.stage.taps_ohm, working.output_ohm, strict=True)
        for distortion, watts in rows.items()
    )


def _law(stage: ValveStage) -> PlateLaw:
    excess = stage.plate_v + stage.mu * stage.bias_v
    least = LEAST_DEPTH * stage.plate_v / KNEE
    if excess < least:
        raise StageFault(
            tr(
                "So much bias all but cuts the valve off: plate voltage plus amplification factor times bias "
                "is {found} V and should be {least} V or more.",
                found=f"{excess:.0f}".replace("-", "−"),
                least=f"{least:.0f}",
            )
        )
    exponent = excess / (stage.plate_ohm * stage.plate_ma / 1000.0)
    if not 1.0 <= exponent <= STEEPEST:
        raise StageFault(
            tr(
                "These figures are not of one valve: the exponent of its law comes to {found}, and triodes "
                "lie from 1 to {most}. See to amplification factor, plate resistance and current.",
                found=f"{exponent:.2g}",
                most=f"{STEEPEST:g}",
            )
        )
    return operating_law(stage.plate_v, stage.bias_v, stage.plate_ma / 1000.0, stage.mu, stage.plate_ohm)


def _middle_tap(stage: ValveStage) -> float:
    return stage.taps_ohm[len(stage.taps_ohm) // 2]


def _curves(
    law: PlateLaw, stage: ValveStage, winding_ohm: float
) -> tuple[FloatArray, FloatArray, FloatArray, tuple[FloatArray, FloatArray]]:
    """Grid volts, plate volts, currents [mA], and the cycle: volts and mA."""
    load = stage.primary_ohm + winding_ohm  # the secondary's share, reflected, equals the primary's
    amps, volts = load_line(law, stage.plate_v, stage.bias_v, load, -stage.bias_v, winding_ohm)
    grid = np.linspace(0.0, 2.0 * stage.bias_v, CURVES)
    plate = np.linspace(1.0, BESIDE_PLATE * float(volts.max()), POINTS)
    current = plate_current(law, plate, grid[:, None]) * 1000.0
    return grid, plate, current, (volts, amps * 1000.0)


def _against_load(
    law: PlateLaw, stage: ValveStage, tap_ohm: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Loads on a tap [ohm], the watts of class A1 into them, and their distortion."""
    ratio = turns_ratio(stage.primary_ohm, tap_ohm)
    first, second = (float(ohm) for ohm in winding_resistances(stage.loss_db, stage.primary_ohm, tap_ohm))
    loads = LOADS * tap_ohm
    reflected = ratio**2 * (loads + second)
    at_plate, distortion = sine_power(law, stage.plate_v, stage.bias_v, reflected, None, first)
    return loads, at_plate * loads / (loads + second), distortion


def _three(value: float) -> float:
    return float(f"{value:.3g}")
