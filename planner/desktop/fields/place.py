"""Where in the plan a field looks: a path whose front may move, as when another candidate is looked at."""

from __future__ import annotations

from planner.plan.edit import Path

__all__ = ["Place"]


class Place:
    """A path into the plan, below another place or from the top.

    Whoever shows one of several things (a candidate, a section) changes ``steps`` of the one place that
    all its fields lie below.

    Examples
    --------
    >>> candidate = Place("candidates", 0)
    >>> name = candidate.to("loudspeaker", "name")
    >>> candidate.steps = ("candidates", 2)
    >>> name.path
    ('candidates', 2, 'loudspeaker', 'name')
    """

    def __init__(self, *steps: str | int, parent: Place | None = None) -> None:
        self.steps: Path = steps
        self._parent = parent

    @property
    def path(self) -> Path:
        """The whole path."""
        return self.steps if self._parent is None else (*self._parent.path, *self.steps)

    def to(self, *steps: str | int) -> Place:
        """A place below this one."""
        return Place(*steps, parent=self)
