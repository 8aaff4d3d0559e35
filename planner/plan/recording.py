"""What a plan keeps of a recording: statistics, never sound."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite
from typing import Annotated, Any, NoReturn

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from planner.plan.fields import Curve, Part, Spec

__all__ = ["Distribution", "RecordedSection", "Recording", "Timeline"]

MOST_VALUES = 10_000
_RMS = Spec("RMS of the recording, re full scale", "dB", -400.0, 100.0)
_PEAK = Spec("Sample peak, re full scale", "dB", -400.0, 100.0)
_TRUE_PEAK = Spec("True peak, re full scale", "dB", -400.0, 100.0)
_BAND = Spec("Level, re full scale", "dB", -400.0, 100.0)
_LOUDNESS = Spec("Integrated loudness, re full scale", "dB", -400.0, 100.0)


@dataclass(frozen=True, slots=True)
class _Series:
    """Annotation for a list of numbers in one range; some may be null where nothing is known."""

    label: str
    low: float
    high: float
    whole: bool = False
    gaps: bool = False

    def check(self, given: object) -> tuple[Any, ...]:
        """Return *given* as a tuple of numbers, or refuse it."""
        if not isinstance(given, list | tuple) or not 1 <= len(given) <= MOST_VALUES:
            self._refuse(f"a list of at least one and at most {MOST_VALUES} numbers: {self.label}")
        kinds = {int} if self.whole else {int, float}
        allowed = kinds | {type(None)} if self.gaps else kinds
        if not {type(value) for value in given} <= allowed:
            gaps = " or null" if self.gaps else ""
            self._refuse(f"{'whole numbers' if self.whole else 'numbers'}{gaps} only: {self.label}")
        numbers = [value for value in given if value is not None]
        if not all(self.low <= value <= self.high for value in numbers):
            self._refuse(f"numbers from {self.low:g} to {self.high:g}: {self.label}")
        plain: Callable[[Any], Any] = int if self.whole else float
        return tuple(None if value is None else plain(value) for value in given)

    @staticmethod
    def _refuse(expected: str) -> NoReturn:
        raise PydanticCustomError("series", "{expected}", {"expected": expected})

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        kind = "integer" if self.whole else "number"
        item: dict[str, Any] = {
            "type": [kind, "null"] if self.gaps else kind,
            "minimum": self.low,
            "maximum": self.high,
        }
        return {
            "type": "array",
            "items": item,
            "minItems": 1,
            "maxItems": MOST_VALUES,
            "description": self.label,
        }


class Distribution(Part):
    """Share of the samples above each level re the RMS of the recording."""

    level_re_rms_db: Annotated[tuple[float, ...], _Series("levels re RMS [dB], rising", -200.0, 200.0)]
    share_above: Annotated[tuple[float, ...], _Series("shares of the samples", 0.0, 1.0)]


class Timeline(Part):
    """Largest sample in each window of the recording; null where a window is silent."""

    window_s: Annotated[float, Spec("Window", "s", 0.0, 3600.0, open_low=True)]
    peak_dbfs: Annotated[
        tuple[float | None, ...], _Series("peaks by window [dBFS]", -400.0, 100.0, gaps=True)
    ]


class RecordedSection(Part):
    """Crest factor of what lies between two electrical edges; an edge that is left out is none."""

    low_hz: Annotated[float, Spec("Lower edge", "Hz", 0.0, 1e6, open_low=True)] | None = None
    high_hz: Annotated[float, Spec("Upper edge", "Hz", 0.0, 1e6, open_low=True)] | None = None
    slopes_db_per_octave: tuple[
        Annotated[float, Spec("Lower slope", "dB/octave", 0.0, 1000.0, open_low=True)],
        Annotated[float, Spec("Upper slope", "dB/octave", 0.0, 1000.0, open_low=True)],
    ]
    crest_db: Annotated[float, Spec("Crest factor", "dB", 0.0, 200.0)]


class Recording(Part):
    """A recording, or several played one after another, as statistics. dBFS: a square wave of 1 is 0."""

    file: Annotated[str, Field(min_length=1)]
    digest: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    duration_s: Annotated[float, Spec("Duration", "s", 0.0, 1e8, open_low=True)]
    rms_dbfs: Annotated[float, _RMS]
    sample_peak_dbfs: Annotated[float, _PEAK]
    true_peak_dbtp: Annotated[float, _TRUE_PEAK]
    integrated_lufs: Annotated[float, _LOUDNESS] | None = None
    loudness_range_lu: Annotated[float, Spec("Loudness range", "dB", 0.0, 200.0)] | None = None
    crest_db: Annotated[float, Spec("Crest factor of the whole", "dB", 0.0, 200.0)]
    loud_crest_db: Annotated[float, Spec("Crest factor of the loudest passages", "dB", -200.0, 200.0)]
    bands: Annotated[tuple[tuple[float, float], ...], Curve((_BAND,))]
    coherence: (
        Annotated[tuple[tuple[float, float], ...], Curve((Spec("Coherence", "", -1.0, 1.0),))] | None
    ) = None
    sections: tuple[RecordedSection, ...] = ()
    distribution: Distribution
    clipped_tenths: Annotated[
        tuple[int, ...], _Series("tenths of a second that reach above each level", 0, 10**9, whole=True)
    ]
    timeline: Timeline

    @model_validator(mode="after")
    def _tables_agree(self) -> Recording:
        levels = self.distribution.level_re_rms_db
        lengths = {len(levels), len(self.distribution.share_above), len(self.clipped_tenths)}
        rising = all(low < high for low, high in itertools.pairwise(levels))
        if len(lengths) > 1 or not rising or not all(map(isfinite, levels)):
            expected = "rising levels, with one share_above and one of clipped_tenths for each"
            raise PydanticCustomError("lengths", "{expected}", {"expected": expected})
        return self
