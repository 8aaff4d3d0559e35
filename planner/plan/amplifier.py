"""What drives a loudspeaker in a plan: amplifier, cable and source."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from planner.plan.fields import Part, Spec

__all__ = ["Amplifier", "Cable", "LineSource", "PhonoSource", "Rating", "Residual", "Source"]


_Footprint = Annotated[float, Spec("Footprint", "m", 0.01, 5.0, 0.05, "Width and depth on the shelf")]


class Rating(Part):
    """Continuous sine watts into a resistance at a stated distortion."""

    ohm: Annotated[float, Spec("Rated load", "ohm", 0.5, 1000.0, 1.0, open_low=True)]
    watts: Annotated[float, Spec("Rated power", "W", 0.001, 100_000.0, 0.5, "Continuous sine watts")]
    distortion_pct: Annotated[float, Spec("Distortion", "%", 0.0, 100.0, 0.5)]
    output_ohm: Annotated[float, Spec("Output impedance", "ohm", 0.0, 1000.0, 0.1)]


class Residual(Part):
    """Noise at the output with nothing playing: hum at mains harmonics, and white hiss 20 Hz to 20 kHz."""

    hum_mv: Annotated[float, Spec("Hum", "mV", 0.0, 10_000.0, 0.1, "rms at the loudspeaker terminals")]
    mains_hz: Annotated[float, Spec("Mains frequency", "Hz", 16.0, 400.0, 10.0)]
    hiss_mv: Annotated[float, Spec("Hiss", "mV", 0.0, 10_000.0, 0.05, "rms at the loudspeaker terminals")]
    weighting: Literal["A", "Z"]


class Amplifier(Part):
    """An amplifier, one channel for each stand."""

    name: Annotated[str, Field(min_length=1)]
    catalogue_id: str | None = None
    drives: Annotated[str, Field(min_length=1)]
    output: Literal["transformer", "direct"] = "transformer"
    trim_db: Annotated[
        float, Spec("Trim", "dB", -60.0, 60.0, 0.5, "Its level against the other amplifiers")
    ] = 0.0
    tap_ohm: Annotated[float, Spec("Tap in use", "ohm", 0.5, 1000.0, 1.0, open_low=True)] | None = None
    taps: Annotated[tuple[Rating, ...], Field(min_length=1)]
    gain_db: (
        Annotated[float, Spec("Gain", "dB", -20.0, 80.0, 1.0, "Voltage gain, input to terminals")] | None
    ) = None
    residual: Residual | None = None
    overload: Literal["soft", "hard"] | None = None
    mass_kg: Annotated[float, Spec("Mass", "kg", 0.1, 1000.0, 1.0)] | None = None
    footprint_m: tuple[_Footprint, _Footprint] | None = None


class Cable(Part):
    """Loudspeaker cable: gauge or area with the length of one way, or the loop resistance."""

    gauge_awg: Annotated[int, Spec("Wire gauge", "AWG", -3, 40, whole=True)] | None = None
    area_mm2: Annotated[float, Spec("Conductor area", "mm2", 0.01, 1000.0, 0.5)] | None = None
    length_m: Annotated[float, Spec("Cable length", "m", 0.0, 1000.0, 0.5, "One way")] | None = None
    loop_ohm: Annotated[float, Spec("Loop resistance", "ohm", 0.0, 1000.0, 0.05)] | None = None
    copper_c: (
        Annotated[float, Spec("Copper temperature", "degC", -50.0, 150.0, 5.0, "20 °C unless given")] | None
    ) = None
    catalogue_id: str | None = None

    @model_validator(mode="after")
    def _one_way_to_say_it(self) -> Cable:
        given = tuple(
            value is not None for value in (self.gauge_awg, self.area_mm2, self.length_m, self.loop_ohm)
        )
        if given not in ((True, False, True, False), (False, True, True, False), (False, False, False, True)):
            expected = "gauge_awg with length_m, or area_mm2 with length_m, or loop_ohm alone"
            raise PydanticCustomError("one_of", "{expected}", {"expected": expected})
        if self.loop_ohm is not None and self.copper_c is not None:
            expected = "copper_c with a gauge or an area; a loop resistance is taken as it is"
            raise PydanticCustomError("one_of", "{expected}", {"expected": expected})
        return self


class LineSource(Part):
    """A source of line level: its greatest rms output."""

    kind: Literal["line"]
    volts: Annotated[float, Spec("Source output", "V", 0.001, 100.0, 0.1, "Greatest rms output")]
    catalogue_id: str | None = None


class PhonoSource(Part):
    """A cartridge, in mV at 5 cm/s, and the stage that follows it."""

    kind: Literal["phono"]
    cartridge_mv: Annotated[float, Spec("Cartridge output", "mV", 0.01, 100.0, 0.1, "rms at 5 cm/s, 1 kHz")]
    phono_gain_db: Annotated[float, Spec("Phono gain", "dB", 0.0, 100.0, 1.0, "At 1 kHz")]
    phono_noise_uv: (
        Annotated[
            float,
            Spec("Phono noise", "uV", 0.0, 100_000.0, 1.0, "rms at its input, 20 Hz to 20 kHz, unweighted"),
        ]
        | None
    ) = None
    phono_overload_v: (
        Annotated[float, Spec("Phono overload", "V", 0.001, 1000.0, 0.5, "rms at its output")] | None
    ) = None
    peak_velocity_cm_s: (
        Annotated[
            float,
            Spec("Peak groove velocity", "cm/s", 5.0, 200.0, 5.0, "Highest peaks of a record; usually 20"),
        ]
        | None
    ) = None
    catalogue_id: str | None = None


Source = Annotated[LineSource | PhonoSource, Field(discriminator="kind")]
