"""The document: a room, its seats, where the loudspeakers stand, a target, a programme, the candidates."""

from __future__ import annotations

import re
from typing import Annotated, Final, Literal

from pydantic import AfterValidator, Field, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from planner.plan.amplifier import Amplifier, Cable, Source
from planner.plan.fields import Curve, Part, Spec
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.recording import Recording
from planner.plan.room import Room

__all__ = [
    "FORMAT",
    "VERSION",
    "Aim",
    "Candidate",
    "Plan",
    "Price",
    "Programme",
    "Seat",
    "Stand",
    "Target",
    "Tolerances",
]

FORMAT: Final = "fewwatts-plan"
VERSION: Final = 1

_X = Spec("x", "m", -100.0, 100.0, 0.1, "From the front wall, along the length")
_Y = Spec("y", "m", -100.0, 100.0, 0.1, "From the left wall, along the width")
_Z = Spec("z", "m", 0.0, 100.0, 0.05, "Above the floor")
_Name = Annotated[str, Field(min_length=1)]


class _Placed(Part):
    """Something at a place in the room."""

    name: _Name
    x_m: Annotated[float, _X]
    y_m: Annotated[float, _Y]
    z_m: Annotated[float, _Z]

    @property
    def position_m(self) -> tuple[float, float, float]:
        """x, y and z [m]."""
        return self.x_m, self.y_m, self.z_m


class Seat(_Placed):
    """A listening position: the middle of the head."""


class Aim(Part):
    """Where a loudspeaker points: at a seat, or along given angles."""

    seat: str | None = None
    azimuth_deg: Annotated[float, Spec("Azimuth", "deg", -360.0, 360.0, 5.0, "From +x toward +y")] | None = (
        None
    )
    elevation_deg: Annotated[float, Spec("Elevation", "deg", -90.0, 90.0, 5.0, "Up is positive")] | None = (
        None
    )

    @model_validator(mode="after")
    def _seat_or_angles(self) -> Aim:
        given = (self.seat is not None, self.azimuth_deg is not None, self.elevation_deg is not None)
        if given not in ((True, False, False), (False, True, True)):
            expected = "either seat, or azimuth_deg with elevation_deg"
            raise PydanticCustomError("one_of", "{expected}", {"expected": expected})
        return self


class Stand(_Placed):
    """Where one loudspeaker stands (its acoustic centre), where it points, and which sections it carries."""

    aim: Aim
    carries: Annotated[tuple[str, ...], Field(min_length=1)] | None = None


class Target(Part):
    """The level wanted at the seat; the one given is held, the other follows from the crest factor."""

    peak_db: Annotated[float, Spec("Peak level", "dB", 0.0, 194.0, 1.0, "At the seat, re 20 µPa")] | None = (
        None
    )
    average_db: (
        Annotated[float, Spec("Average level", "dB", 0.0, 194.0, 1.0, "Over a loud passage, re 20 µPa")]
        | None
    ) = None

    @model_validator(mode="after")
    def _one_is_held(self) -> Target:
        if (self.peak_db is None) == (self.average_db is None):
            raise PydanticCustomError(
                "one_of", "{expected}", {"expected": "either peak_db or average_db, not both"}
            )
        return self


class Programme(Part):
    """The music as statistics: of a typical programme, or of a recording."""

    kind: Literal["pink", "simulated", "recording"]
    crest_db: Annotated[
        float, Spec("Crest factor", "dB", 0.0, 40.0, 1.0, "Peak over average of the electrical programme")
    ]
    coherence: (
        Annotated[tuple[tuple[float, float], ...], Curve((Spec("Coherence", "", -1.0, 1.0, 0.05),))] | None
    ) = None
    transient_ms: Annotated[
        float,
        Spec("Transient", "ms", 1.0, 2000.0, 5.0, "How long a peak lasts; the room builds up no longer"),
    ] = 20.0
    recording: Recording | None = None

    @model_validator(mode="after")
    def _recording_with_its_kind(self) -> Programme:
        if (self.kind == "recording") != (self.recording is not None):
            expected = 'a recording where kind is "recording", and nowhere else'
            raise PydanticCustomError("recording", "{expected}", {"expected": expected})
        return self


class Tolerances(Part):
    """One standard deviation of each input; the defaults are common practice, no published source."""

    sensitivity_db: Annotated[float, Spec("Sensitivity", "dB", 0.0, 20.0, 0.25)] = 0.75
    low_room_gain_db: Annotated[
        float, Spec("Room gain below the crossover to modes", "dB", 0.0, 20.0, 0.5)
    ] = 2.0
    t60_pct: Annotated[float, Spec("Reverberation time", "%", 0.0, 200.0, 5.0)] = 15.0
    distance_m: Annotated[float, Spec("Seat distance", "m", 0.0, 5.0, 0.05)] = 0.05
    transient_ratio: Annotated[float, Spec("Transient, times or divided by", "", 1.0, 10.0, 0.1)] = 1.6
    crest_db: Annotated[float, Spec("Crest factor", "dB", 0.0, 20.0, 0.5)] = 1.0
    rating_pct: Annotated[float, Spec("Amplifier rating", "%", 0.0, 200.0, 1.0)] = 5.0
    impedance_pct: Annotated[float, Spec("Impedance", "%", 0.0, 200.0, 1.0)] = 5.0


_CURRENCY = "[A-Z]{3}"


def _checked_currency(given: str) -> str:
    if not re.fullmatch(_CURRENCY, given):
        expected = "the three capital letters of a currency, such as EUR"
        raise PydanticCustomError("currency", "{expected}", {"expected": expected})
    return given


_Currency = Annotated[
    str,
    AfterValidator(_checked_currency),
    WithJsonSchema({"type": "string", "pattern": f"^{_CURRENCY}$", "description": "ISO 4217"}),
]
_Stands = Annotated[tuple[Stand, ...], Field(min_length=1)]


class Price(Part):
    """What a candidate costs; told to nobody who does not ask."""

    amount: Annotated[float, Spec("Price", "", 0.0, 1e9, 100.0)]
    currency: _Currency


class Candidate(Part):
    """One complete system offered for this room; ``stands`` of its own take the place of the plan's."""

    name: _Name
    loudspeaker: Loudspeaker
    amplifiers: Annotated[tuple[Amplifier, ...], Field(min_length=1)]
    cable: Cable | None = None
    source: Source | None = None
    stands: _Stands | None = None
    price: Price | None = None


class Plan(Part):
    """The whole document; equal plans give equal outcomes."""

    format: Literal["fewwatts-plan"] = FORMAT
    version: Literal[1] = VERSION
    title: str
    notes: str | None = None
    room: Room | None
    seats: Annotated[tuple[Seat, ...], Field(min_length=1)]
    stands: _Stands
    target: Target
    programme: Programme
    candidates: Annotated[tuple[Candidate, ...], Field(min_length=1)]
    at_distortion_pct: Annotated[
        float, Spec("At distortion", "%", 0.0, 100.0, 1.0, "Ratings above this distortion do not count")
    ] = 3.0
    tolerances: Tolerances | None = None

    def stands_of(self, candidate: int) -> tuple[Stand, ...]:
        """Where one of the candidates stands: in places of its own, if it has any."""
        return self.candidates[candidate].stands or self.stands
