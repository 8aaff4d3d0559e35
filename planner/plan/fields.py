"""What a value of the plan may be: number specs, octave values and curves, each said once.

Forms, error messages, reports and the JSON Schema all read label, unit and range from here.
"""

from __future__ import annotations

import itertools
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, NoReturn, get_args

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from planner.acoustics.bands import OCTAVE_KEYS, interpolate

__all__ = ["ANY", "Curve", "Octaves", "Part", "Phasors", "Spec", "octaves", "spec_of"]

FloatArray = NDArray[np.float64]
ANY = sys.float_info.max


class Part(BaseModel):
    """Base of every part of the plan: frozen, and unknown keys are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


@dataclass(frozen=True, slots=True)
class Spec:
    """What a number means: label, unit, range and the step of its spin box."""

    label: str
    unit: str
    low: float
    high: float
    step: float = 1.0
    tip: str = ""
    whole: bool = False
    open_low: bool = False

    @property
    def expected(self) -> str:
        """The range in words, for messages and tooltips."""
        kind = "a whole number" if self.whole else "a number"
        if self.high >= ANY:
            return f"{kind} above {self.low:g} {self.unit}".rstrip()
        first = "above" if self.open_low else "from"
        return f"{kind} {first} {self.low:g} to {self.high:g} {self.unit}".rstrip()

    def check(self, value: object) -> float:
        """Return *value* as a float (an int for whole numbers), or refuse it."""
        allowed = int if self.whole else (int, float)
        if isinstance(value, bool) or not isinstance(value, allowed) or not self._inside(value):
            raise PydanticCustomError("number", "{expected}", {"expected": self.expected})
        return value if self.whole else float(value)

    def _inside(self, value: float) -> bool:
        return (self.low < value if self.open_low else self.low <= value) and value <= self.high

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        low = "exclusiveMinimum" if self.open_low else "minimum"
        text = f"{self.label} [{self.unit}]" if self.unit else self.label
        kind = "integer" if self.whole else "number"
        return {"type": kind, low: self.low, "maximum": self.high, "description": text}


def spec_of(part: type[BaseModel] | BaseModel, field: str) -> Spec:
    """The :class:`Spec` of a number field, also where the field may be left out.

    Raises
    ------
    KeyError
        If the field holds no single number.
    """
    model = part if isinstance(part, type) else type(part)
    info = model.model_fields[field]
    nested = [item for choice in get_args(info.annotation) for item in getattr(choice, "__metadata__", ())]
    for item in [*info.metadata, *nested]:
        if isinstance(item, Spec):
            return item
    raise KeyError(f"{model.__name__}.{field} is not a number with a unit")


class Octaves(Mapping[str, float]):
    """Values by octave, such as absorption or T60: keys are nominal octaves, "31.5" to "16000"."""

    __slots__ = ("_pairs",)

    def __init__(self, values: Mapping[str, float]) -> None:
        order = list(OCTAVE_KEYS)
        self._pairs = tuple(sorted(values.items(), key=lambda pair: order.index(pair[0])))

    def __getitem__(self, key: str) -> float:
        return dict(self._pairs)[key]

    def __iter__(self) -> Iterator[str]:
        return iter(key for key, _ in self._pairs)

    def __len__(self) -> int:
        return len(self._pairs)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Octaves) and self._pairs == other._pairs

    def __hash__(self) -> int:
        return hash(self._pairs)

    def __repr__(self) -> str:
        return f"Octaves({dict(self._pairs)})"

    def at(self, frequency_hz: FloatArray) -> FloatArray:
        """Values at any frequency: linear over log frequency, flat outside [same unit as the values]."""
        table_hz = np.array([OCTAVE_KEYS[key] for key in self])
        return interpolate(frequency_hz, table_hz, np.array([self[key] for key in self]))


@dataclass(frozen=True, slots=True)
class _OctaveSpec:
    """Annotation that reads an object of octaves, each value ruled by one :class:`Spec`."""

    value: Spec

    def check(self, given: object) -> Octaves:
        """Return *given* as octave values, or refuse it."""
        if isinstance(given, Octaves):
            given = dict(given)
        if not isinstance(given, dict) or not given or not set(given) <= set(OCTAVE_KEYS):
            expected = f'octaves such as {{"125": …, "1000": …}} out of {", ".join(OCTAVE_KEYS)}'
            raise PydanticCustomError("octaves", "{expected}", {"expected": expected})
        for key, value in given.items():
            try:
                self.value.check(value)
            except PydanticCustomError:
                expected = f"{self.value.expected} in the {key} Hz octave"
                raise PydanticCustomError("octaves", "{expected}", {"expected": expected}) from None
        return Octaves({key: float(value) for key, value in given.items()})

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        to_plain = core_schema.plain_serializer_function_ser_schema(dict)
        return core_schema.no_info_plain_validator_function(self.check, serialization=to_plain)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        number = self.value.__get_pydantic_json_schema__(schema, handler)
        properties = {key: number for key in OCTAVE_KEYS}
        return {"type": "object", "properties": properties, "additionalProperties": False, "minProperties": 1}


def octaves(label: str, unit: str, low: float, high: float) -> _OctaveSpec:
    """Annotation for a field that holds octave values in the given range."""
    return _OctaveSpec(Spec(label, unit, low, high))


@dataclass(frozen=True, slots=True)
class Curve:
    """Annotation for a table of rows, first column frequency [Hz] rising, then one spec a column."""

    columns: tuple[Spec, ...]
    first: Spec = Spec("Frequency", "Hz", 0.0, 1e6, open_low=True)
    most_rows: ClassVar[int] = 10_000

    def check(self, given: object) -> tuple[tuple[float, ...], ...]:
        """Return *given* as rows of floats, or refuse it."""
        specs = (self.first, *self.columns)
        names = ", ".join(f"{spec.label.lower()} {spec.unit}".rstrip() for spec in specs)
        if not isinstance(given, list | tuple) or not 1 <= len(given) <= self.most_rows:
            self._refuse(f"a list of rows [{names}], at least one and at most {self.most_rows}")
        rows = [self._row(number, row, specs, names) for number, row in enumerate(given)]
        if any(later[0] <= earlier[0] for earlier, later in itertools.pairwise(rows)):
            self._refuse("frequencies that rise from row to row")
        return tuple(rows)

    def _row(self, number: int, row: object, specs: tuple[Spec, ...], names: str) -> tuple[float, ...]:
        if not isinstance(row, list | tuple) or len(row) != len(specs):
            self._refuse(f"[{names}] in row {number}")
        for spec, value in zip(specs, row, strict=True):
            try:
                spec.check(value)
            except PydanticCustomError:
                self._refuse(f"{spec.expected} for the {spec.label.lower()} in row {number}")
        return tuple(float(value) for value in row)

    @staticmethod
    def _refuse(expected: str) -> NoReturn:
        raise PydanticCustomError("curve", "{expected}", {"expected": expected})

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        specs = (self.first, *self.columns)
        columns = [spec.__get_pydantic_json_schema__(schema, handler) for spec in specs]
        row = {"type": "array", "prefixItems": columns, "minItems": len(specs), "maxItems": len(specs)}
        return {"type": "array", "items": row, "minItems": 1, "maxItems": self.most_rows}


Phasors = Annotated[
    tuple[tuple[float, float, float], ...],
    Curve((Spec("Impedance", "ohm", 0.0, 1000.0, open_low=True), Spec("Phase", "deg", -180.0, 180.0))),
]
