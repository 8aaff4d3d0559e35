"""How one number of the plan is shown, typed and stepped, in the units a person prefers."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner.plan.fields import ANY, Spec
from planner.plan.units import (
    Preference,
    UnitsError,
    display_unit,
    from_display,
    number_text,
    parse,
    show,
    step_for,
    to_display,
)
from planner.report.language import tr

__all__ = ["Reading"]

FINER = {("m", "cm"): 100.0, ("m", "mm"): 1000.0, ("H", "mH"): 1000.0}
BY_DECADE = ("Hz", "W", "mH", "mm2")
"""Units whose values span decades: one step is a tenth of the leading figure's place."""
SMALLEST = 0.01


@dataclass(frozen=True, slots=True)
class Reading:
    """The text side of a number: its spec, and the unit it is read in if that is not the plan's own.

    With ``plain`` lengths in US units are decimal feet, where feet and inches find no room.
    """

    spec: Spec
    unit: str
    plain: bool = False

    @property
    def factor(self) -> float:
        """What turns a value of the plan into the unit read here."""
        return FINER.get((self.spec.unit, self.unit), 1.0)

    def text(self, value: float, units: Preference) -> str:
        """The value with its unit, rounded for reading."""
        if self.plain and display_unit(self.unit, units) == "ft":
            return f"{to_display(value * self.factor, self.unit, units):.2f} ft"
        return show(value * self.factor, self.unit, units)

    def full(self, value: float, units: Preference) -> str:
        """The value with its unit and every digit that it has, for editing."""
        short = self.text(value, units)
        if self._means(short, value, units):
            return short
        unit = display_unit(self.unit, units)
        space = "" if unit == "°" else " "
        return f"{number_text(value * self.factor, self.unit, units)}{space}{unit}".rstrip()

    def read(self, text: str, units: Preference) -> float:
        """The value that a typed text means; raises :class:`UnitsError` if it is none that may stand here."""
        value = parse(text, self.unit, units) / self.factor
        if self.spec.whole:
            if not value.is_integer():
                raise UnitsError(tr("“{typed}” is not a whole number", typed=text.strip()))
            value = int(value)
        if not self.allows(value):
            raise UnitsError(self._refusal(value, units))
        return value

    def allows(self, value: float) -> bool:
        """Whether the value lies in its range."""
        above = value > self.spec.low if self.spec.open_low else value >= self.spec.low
        return above and value <= self.spec.high

    def range_text(self, units: Preference) -> str:
        """The range in words."""
        low = self.text(self.spec.low, units)
        if self.spec.high >= ANY:
            return tr("above {low}", low=low)
        high = self.text(self.spec.high, units)
        if self.spec.open_low:
            return tr("above {low}, up to {high}", low=low, high=high)
        return tr("{low} to {high}", low=low, high=high)

    def moved(self, value: float, steps: float, units: Preference) -> float:
        """The value some steps on, held inside its range."""
        if self.spec.whole:
            return self._held(value, value + math.copysign(max(1, round(abs(steps))), steps))
        number = to_display(value * self.factor, self.unit, units)
        number = (
            self._by_decade(number, steps) if self.unit in BY_DECADE else number + steps * self._step(units)
        )
        return self._held(value, from_display(float(f"{number:.9g}"), self.unit, units) / self.factor)

    def _step(self, units: Preference) -> float:
        own = display_unit(self.unit) == display_unit(self.unit, units)
        return self.spec.step * self.factor if own else step_for(self.unit, units)

    @staticmethod
    def _by_decade(number: float, steps: float) -> float:
        whole, part = divmod(abs(steps), 1.0)
        sign = math.copysign(1.0, steps)
        for share in (*[1.0] * int(whole), part):
            # Down from 100 the steps are those of 99.
            near = max(number, SMALLEST) * (1.0 - 1e-9 if sign < 0 else 1.0)
            place = math.floor(math.log10(near)) - 1
            number = float(f"{number + sign * share * 10.0**place:.9g}")
        return number

    def _held(self, before: float, value: float) -> float:
        held = min(max(value, self.spec.low), self.spec.high)
        if not self.allows(held):
            return before
        return int(held) if self.spec.whole else held

    def _means(self, text: str, value: float, units: Preference) -> bool:
        try:
            return parse(text, self.unit, units) / self.factor == value
        except UnitsError:
            return False

    def _refusal(self, value: float, units: Preference) -> str:
        shown, wanted = self.full(value, units), self.range_text(units)
        if value > self.spec.high:
            return tr("{value} is too much; expected {range}", value=shown, range=wanted)
        return tr("{value} is too little; expected {range}", value=shown, range=wanted)
