"""What every page of a presentation has: a question, a slider, and an answer with its picture."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from planner.desktop.presentation.case import Case
from planner.desktop.presentation.look import Look
from planner.plan.units import Preference

__all__ = ["Answer", "Mark", "Page", "Paint", "Scale"]

Paint = Callable[[QPainter, QRectF, Look], None]


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the slider that has a name."""

    value: float
    words: str


@dataclass(frozen=True, slots=True)
class Scale:
    """What a slider may be moved over, in equal steps, and where it stands in the plan."""

    low: float
    high: float
    step: float
    planned: float
    marks: tuple[Mark, ...] = ()

    @property
    def last(self) -> int:
        """The highest position; the lowest is 0."""
        return round((self.high - self.low) / self.step)

    def position_of(self, value: float) -> int:
        """The position nearest to a value."""
        return max(0, min(self.last, round((value - self.low) / self.step)))

    def value_at(self, position: int) -> float:
        """The value at a position; at the plan's own it is the plan's own, to the last digit."""
        if position == self.position_of(self.planned):
            return self.planned
        return self.low + position * self.step

    def share_of(self, value: float) -> float:
        """How far along a value lies, 0 to 1."""
        return max(0.0, min(1.0, (value - self.low) / (self.high - self.low)))


@dataclass(frozen=True, slots=True)
class Answer:
    """What a page says where its slider stands: in a sentence, as a picture, and the picture in words."""

    value: str
    sentence: str
    picture: str
    paint: Paint


class Page(ABC):
    """One question; it holds nothing of its own, so that one page serves every plan."""

    @property
    @abstractmethod
    def question(self) -> str:
        """The question, in plain words."""

    @property
    @abstractmethod
    def tries(self) -> str:
        """What the slider lets a person try."""

    @abstractmethod
    def note(self, case: Case, units: Preference) -> str:
        """What the figures stand on."""

    @abstractmethod
    def scale(self, case: Case, units: Preference) -> Scale | None:
        """What the slider may be moved over; None where the plan gives nothing to move."""

    @abstractmethod
    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        """The answer for a value of the slider, None where there is no slider."""
