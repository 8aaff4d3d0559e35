"""A loudspeaker of a plan: its sections, their radiators and impedances."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from planner.plan.fields import ANY, Curve, Part, Phasors, Spec

__all__ = [
    "Diaphragm",
    "Dipole",
    "Driver",
    "Horn",
    "Impedance",
    "Limits",
    "Loudspeaker",
    "Omni",
    "Radiator",
    "Section",
    "Sensitivity",
]


class Driver(Part):
    """Small-signal parameters of a moving-coil driver as its terminals see it."""

    dc_ohm: Annotated[float, Spec("DC resistance", "ohm", 0.0, 1000.0, 0.1, open_low=True)]
    resonance_hz: Annotated[float, Spec("Resonance", "Hz", 0.0, 100_000.0, open_low=True)]
    mechanical_q: Annotated[float, Spec("Mechanical Q", "", 0.0, 1000.0, 0.1, open_low=True)]
    electrical_q: Annotated[float, Spec("Electrical Q", "", 0.0, 1000.0, 0.05, open_low=True)]
    inductance_h: Annotated[float, Spec("Inductance", "H", 0.0, 1.0, 0.0001)]


class Impedance(Part):
    """A nominal value, and where it is known a curve: a table or a driver's parameters."""

    nominal_ohm: Annotated[float, Spec("Nominal impedance", "ohm", 0.5, 1000.0, 1.0, open_low=True)]
    table: Phasors | None = None
    driver: Driver | None = None

    @model_validator(mode="after")
    def _one_curve(self) -> Impedance:
        if self.table is not None and self.driver is not None:
            raise PydanticCustomError(
                "one_of", "{expected}", {"expected": "either table or driver, not both"}
            )
        return self


class Sensitivity(Part):
    """Level at 1 m on axis for the stated drive."""

    level_db: Annotated[float, Spec("Sensitivity", "dB", 40.0, 130.0, 0.5, "Level at 1 m on the axis")]
    drive: Literal["2.83 V", "1 W"]


_Angle = Spec("Coverage", "deg", 1.0, 360.0, 5.0, "Between the directions that are 6 dB down")
_Mouth = Spec("Mouth", "m", 0.005, 20.0, 0.01)


class Horn(Part):
    """A horn, by its coverage and the size of its mouth."""

    kind: Literal["horn"]
    horizontal_deg: Annotated[float, _Angle]
    vertical_deg: Annotated[float, _Angle]
    mouth_width_m: Annotated[float, _Mouth]
    mouth_height_m: Annotated[float, _Mouth]


class Diaphragm(Part):
    """A direct radiator; several count as one of the same total area."""

    kind: Literal["diaphragm"]
    diameter_m: Annotated[float, Spec("Diaphragm diameter", "m", 0.005, 5.0, 0.01)]
    count: Annotated[int, Spec("Drivers", "", 1, 64, whole=True)] = 1


class Dipole(Part):
    """An open baffle: a gradient source."""

    kind: Literal["dipole"]


class Omni(Part):
    """A source that sends alike in all directions."""

    kind: Literal["omni"]


Radiator = Annotated[Horn | Diaphragm | Dipole | Omni, Field(discriminator="kind")]
_Footprint = Annotated[float, Spec("Footprint", "m", 0.01, 20.0, 0.05, "Width and depth on the floor")]
_Power = Spec("Long-term power", "W", 0.001, 100_000.0, 5.0, "Programme it stands for hours", open_low=True)


class Limits(Part):
    """What a section stands: programme power for hours, peaks, and one-way diaphragm travel."""

    long_term_w: Annotated[float, _Power]
    peak_w: (
        Annotated[
            float, Spec("Peak power", "W", 0.001, 1_000_000.0, 10.0, "Four times long-term unless given")
        ]
        | None
    ) = None
    xmax_mm: Annotated[float, Spec("Excursion", "mm", 0.01, 200.0, 0.5, "One way, peak")] | None = None
    box: Literal["sealed", "vented", "horn", "open"] | None = None
    tuning_hz: Annotated[float, Spec("Tuning", "Hz", 1.0, 1000.0, 1.0, "Of the vented box")] | None = None

    @model_validator(mode="after")
    def _tuned_if_vented(self) -> Limits:
        if (self.box == "vented") != (self.tuning_hz is not None):
            expected = "tuning_hz with a vented box, and with no other"
            raise PydanticCustomError("one_of", "{expected}", {"expected": expected})
        return self


_Slope = Annotated[float, Spec("Slope", "dB/octave", 0.0, 200.0, 6.0, open_low=True)]


class Section(Part):
    """One way of a loudspeaker; its edges are the −6 dB points."""

    name: Annotated[str, Field(min_length=1)]
    low_hz: Annotated[float, Spec("Low edge", "Hz", 0.0, ANY, open_low=True)]
    high_hz: Annotated[float, Spec("High edge", "Hz", 0.0, ANY, open_low=True)]
    slopes_db_per_octave: tuple[_Slope, _Slope] = (24.0, 24.0)
    sensitivity: Sensitivity
    response: (
        Annotated[tuple[tuple[float, float], ...], Curve((Spec("Response", "dB", -100.0, 100.0),))] | None
    ) = None
    impedance: Impedance | None = None
    radiator: Radiator
    wiring: Literal["series", "parallel"] | None = None
    """With it, sensitivity and impedance are those of one of the radiator's ``count`` drivers."""
    limits: Limits | None = None

    @model_validator(mode="after")
    def _rising_edges(self) -> Section:
        if self.low_hz >= self.high_hz:
            expected = f"low_hz below high_hz, not {self.low_hz:g} and {self.high_hz:g} Hz"
            raise PydanticCustomError("edges", "{expected}", {"expected": expected})
        return self


class Loudspeaker(Part):
    """A loudspeaker as its data sheet gives it; sections are listed from low to high."""

    name: Annotated[str, Field(min_length=1)]
    catalogue_id: str | None = None
    note: str | None = None
    radiates_into: Literal["half_space", "free_field"]
    baffle_width_m: Annotated[float, Spec("Baffle width", "m", 0.01, 100.0, 0.05)] | Literal["wall"]
    impedance: Impedance | None = None
    sections: Annotated[tuple[Section, ...], Field(min_length=1)]
    mass_kg: Annotated[float, Spec("Mass", "kg", 0.1, 10_000.0, 1.0)] | None = None
    footprint_m: tuple[_Footprint, _Footprint] | None = None
