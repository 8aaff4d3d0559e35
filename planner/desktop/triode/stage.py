"""A single-ended triode stage as its data sheet and its transformer's state it."""

from __future__ import annotations

from typing import Annotated

from planner.plan.fields import Part, Spec

__all__ = ["STARTS", "ValveStage"]

_Tap = Spec("Tap", "ohm", 0.5, 1000.0, 1.0, "Load that the tap is meant for", open_low=True)


class ValveStage(Part):
    """An operating point in class A, and what stands between plate and loudspeaker."""

    plate_v: Annotated[float, Spec("Plate voltage", "V", 10.0, 2000.0, 5.0, "Plate to cathode, at rest")]
    bias_v: Annotated[float, Spec("Bias", "V", -500.0, -0.1, 1.0, "Grid to cathode, at rest")]
    plate_ma: Annotated[float, Spec("Plate current", "mA", 0.1, 2000.0, 1.0, "At rest")]
    mu: Annotated[float, Spec("Amplification factor", "", 0.5, 200.0, 0.1, "Of the valve, at rest")]
    plate_ohm: Annotated[
        float, Spec("Plate resistance", "ohm", 20.0, 200_000.0, 50.0, "Of the valve, at rest")
    ]
    primary_ohm: Annotated[
        float, Spec("Primary load", "ohm", 100.0, 100_000.0, 100.0, "With the taps rightly loaded")
    ]
    loss_db: Annotated[
        float, Spec("Insertion loss", "dB", 0.0, 6.0, 0.1, "Of the transformer, at mid frequencies")
    ] = 0.3
    tap_ohm: Annotated[float, _Tap] = 8.0
    second_tap_ohm: Annotated[float, _Tap] | None = None
    third_tap_ohm: Annotated[float, _Tap] | None = None

    @property
    def taps_ohm(self) -> tuple[float, ...]:
        """The taps, each once, from low to high [ohm]."""
        stated = (self.tap_ohm, self.second_tap_ohm, self.third_tap_ohm)
        return tuple(sorted({ohm for ohm in stated if ohm is not None}))


# Operating points of directly heated triodes as valve manuals publish them, without their names.
STARTS = (
    ValveStage(
        plate_v=250.0,
        bias_v=-45.0,
        plate_ma=60.0,
        mu=4.2,
        plate_ohm=800.0,
        primary_ohm=2500.0,
        tap_ohm=4.0,
        second_tap_ohm=8.0,
        third_tap_ohm=16.0,
    ),
    ValveStage(
        plate_v=275.0,
        bias_v=-56.0,
        plate_ma=36.0,
        mu=3.5,
        plate_ohm=1700.0,
        primary_ohm=4600.0,
        tap_ohm=4.0,
        second_tap_ohm=8.0,
        third_tap_ohm=16.0,
    ),
    ValveStage(
        plate_v=180.0,
        bias_v=-31.5,
        plate_ma=31.0,
        mu=3.5,
        plate_ohm=1650.0,
        primary_ohm=2700.0,
        tap_ohm=4.0,
        second_tap_ohm=8.0,
        third_tap_ohm=16.0,
    ),
)
