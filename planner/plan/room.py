"""The room of a plan: a shoebox, what its six faces are made of, and what stands in it."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag, model_validator
from pydantic_core import PydanticCustomError

from planner.plan.fields import Octaves, Part, Spec, octaves
from planner.resources import furnishings, materials

__all__ = ["FACES", "Furnishing", "OwnItem", "OwnMaterial", "Room", "RoomNoise", "Surface", "Surfaces"]

FACES = ("floor", "ceiling", "front", "back", "left", "right")


def _named_or_own(value: object) -> str | None:
    if isinstance(value, str):
        return "name"
    return "own" if isinstance(value, dict | Part) else None


def _known_name(table: Any, what: str) -> Any:
    """A check that a name stands in a table of the resources, with the nearest ones if not."""

    def check(name: str) -> str:
        if name not in table():
            raise PydanticCustomError("name", "{expected}", {"expected": _nearest(name, table(), what)})
        return name

    return check


def _nearest(name: str, known: Any, what: str) -> str:
    from difflib import get_close_matches

    near = get_close_matches(name, list(known), n=3, cutoff=0.4)
    hint = f"; close to it: {', '.join(near)}" if near else ""
    return f"the name of {what} that this program knows, or {{name, …}} of its own{hint}"


class _KnownName:
    """Annotation for a name that must stand in a table of the resources."""

    def __init__(self, table: Any, what: str) -> None:
        self.check = _known_name(table, what)

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core import core_schema

        return core_schema.no_info_after_validator_function(self.check, handler(source))


_Absorption = Annotated[float, Spec("Absorption", "", 0.0, 1.0, 0.01)]
_OctaveAbsorption = Annotated[Octaves, octaves("Absorption", "", 0.0, 1.0)]
_Area = Annotated[float, Spec("Absorption area", "m2", 0.0, 1000.0, 0.1)]
_OctaveArea = Annotated[Octaves, octaves("Absorption area", "m2", 0.0, 1000.0)]


def _number_or_octaves(value: object) -> str:
    return "octaves" if isinstance(value, dict | Octaves) else "number"


class OwnMaterial(Part):
    """A material that the plan describes itself."""

    name: str
    absorption: Annotated[
        Annotated[_Absorption, Tag("number")] | Annotated[_OctaveAbsorption, Tag("octaves")],
        Discriminator(_number_or_octaves),
    ]


class OwnItem(Part):
    """A furnishing that the plan describes itself: absorption area of one piece [m²]."""

    name: str
    area_m2: Annotated[
        Annotated[_Area, Tag("number")] | Annotated[_OctaveArea, Tag("octaves")],
        Discriminator(_number_or_octaves),
    ]


class Surface(Part):
    """One material on one face; without an area it covers what remains of the face."""

    material: Annotated[
        Annotated[str, _KnownName(materials, "a material"), Tag("name")] | Annotated[OwnMaterial, Tag("own")],
        Discriminator(_named_or_own),
    ]
    area_m2: Annotated[float, Spec("Area", "m2", 0.0, 10_000.0, 0.1, open_low=True)] | None = None


_Face = Annotated[tuple[Surface, ...], Field(min_length=1)]


class Surfaces(Part):
    """The six faces: front is the wall at x = 0, back at x = length, left at y = 0, right at y = width."""

    floor: _Face
    ceiling: _Face
    front: _Face
    back: _Face
    left: _Face
    right: _Face


class Furnishing(Part):
    """So many pieces of one thing that absorbs sound."""

    item: Annotated[
        Annotated[str, _KnownName(furnishings, "a furnishing"), Tag("name")] | Annotated[OwnItem, Tag("own")],
        Discriminator(_named_or_own),
    ]
    count: Annotated[int, Spec("Count", "", 0, 1000, whole=True)]


class RoomNoise(Part):
    """How quiet the empty room is: an NC curve or an A-weighted level."""

    nc: Annotated[float, Spec("Noise criterion", "", 15.0, 70.0)] | None = None
    dba: Annotated[float, Spec("Room noise", "dBA", 0.0, 194.0)] | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> RoomNoise:
        if (self.nc is None) == (self.dba is None):
            raise PydanticCustomError("one_of", "{expected}", {"expected": "either nc or dba, not both"})
        return self


class Room(Part):
    """A shoebox with materials; x runs along its length from the front wall."""

    length_m: Annotated[float, Spec("Length", "m", 0.5, 100.0, 0.1, "Front wall to back wall, along x")]
    width_m: Annotated[float, Spec("Width", "m", 0.5, 100.0, 0.1, "Left wall to right wall, along y")]
    height_m: Annotated[float, Spec("Height", "m", 0.5, 100.0, 0.1, "Floor to ceiling")]
    temperature_c: Annotated[float, Spec("Temperature", "degC", -20.0, 50.0)] = 20.0
    humidity_pct: Annotated[float, Spec("Humidity", "%", 0.0, 100.0, 5.0, "Relative humidity")] = 50.0
    pressure_kpa: Annotated[float, Spec("Air pressure", "kPa", 50.0, 110.0)] = 101.325
    surfaces: Surfaces
    furnishings: tuple[Furnishing, ...] = ()
    measured_t60_s: Annotated[Octaves, octaves("Reverberation time", "s", 0.05, 30.0)] | None = None
    leak_hz: Annotated[
        float, Spec("Leak", "Hz", 0.0, 200.0, 1.0, "Below it the room no longer holds pressure")
    ] = 25.0
    noise: RoomNoise | None = None

    @property
    def dimensions_m(self) -> tuple[float, float, float]:
        """Length, width and height [m]."""
        return self.length_m, self.width_m, self.height_m

    def face_area_m2(self, face: str) -> float:
        """Area of one of :data:`FACES` [m²]."""
        length, width, height = self.dimensions_m
        if face in ("floor", "ceiling"):
            return length * width
        return (width if face in ("front", "back") else length) * height
