"""What can be paired: the catalogue's loudspeakers and amplifiers, and those that only the plan holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from planner.plan.amplifier import Amplifier
from planner.plan.catalogue import AmplifierEntry, Catalogue, LoudspeakerEntry
from planner.plan.loudspeaker import Dipole, Horn, Loudspeaker
from planner.plan.model import Candidate

__all__ = ["Offer", "neutral_amplifier", "neutral_loudspeaker", "offered_amplifiers", "offered_loudspeakers"]

Thing = TypeVar("Thing", Loudspeaker, Amplifier)


@dataclass(frozen=True, slots=True)
class Offer(Generic[Thing]):
    """A loudspeaker or an amplifier as a candidate would hold it.

    ``origin`` is ``built in``, ``own`` or ``plan``, ``key`` what tells it from all others.
    """

    key: str
    origin: str
    thing: Thing

    @property
    def name(self) -> str:
        """What it is called."""
        return self.thing.name

    @property
    def kind(self) -> str:
        """What it is by its build: ``horn``, ``dipole`` or ``direct``; ``transformer`` or ``direct``."""
        if isinstance(self.thing, Amplifier):
            return self.thing.output
        radiators = [section.radiator for section in self.thing.sections]
        if any(isinstance(one, Dipole) for one in radiators):
            return "dipole"
        return "horn" if any(isinstance(one, Horn) for one in radiators) else "direct"


def neutral_loudspeaker(loudspeaker: Loudspeaker) -> Loudspeaker:
    """A loudspeaker without a word on where it came from."""
    return loudspeaker.model_copy(update={"catalogue_id": None})


def neutral_amplifier(amplifier: Amplifier) -> Amplifier:
    """An amplifier for the whole loudspeaker, whatever it drove before, from wherever it came."""
    name = amplifier.name.removesuffix(f", {amplifier.drives}")
    return amplifier.model_copy(update={"name": name, "drives": "all", "trim_db": 0.0, "catalogue_id": None})


def offered_loudspeakers(
    catalogue: Catalogue, candidates: Iterable[Candidate]
) -> tuple[Offer[Loudspeaker], ...]:
    """The catalogue's loudspeakers, then those of the candidates that are not in it."""
    listed = [
        Offer(one.id, _origin(catalogue, one.id), _copied(one.data, one.id))
        for one in catalogue.entries
        if isinstance(one, LoudspeakerEntry)
    ]
    known = [neutral_loudspeaker(one.thing) for one in listed]
    more = [
        Offer(key, "plan", thing)
        for key, thing in _unknown(
            known, ((neutral_loudspeaker(one.loudspeaker), one.loudspeaker) for one in candidates)
        )
    ]
    return (*listed, *more)


def offered_amplifiers(catalogue: Catalogue, candidates: Iterable[Candidate]) -> tuple[Offer[Amplifier], ...]:
    """The catalogue's amplifiers, then those of the candidates that are not in it."""
    listed = [
        Offer(one.id, _origin(catalogue, one.id), _copied(one.data, one.id))
        for one in catalogue.entries
        if isinstance(one, AmplifierEntry)
    ]
    known = [neutral_amplifier(one.thing) for one in listed]
    drawn = (amplifier for one in candidates for amplifier in one.amplifiers)
    more = [
        Offer(key, "plan", thing)
        for key, thing in _unknown(known, ((neutral_amplifier(one), neutral_amplifier(one)) for one in drawn))
    ]
    return (*listed, *more)


def _origin(catalogue: Catalogue, entry_id: str) -> str:
    return "own" if catalogue.is_own(entry_id) else "built in"


def _copied(thing: Thing, entry_id: str) -> Thing:
    return thing.model_copy(update={"catalogue_id": entry_id})


def _unknown(known: list[Thing], things: Iterable[tuple[Thing, Thing]]) -> Iterator[tuple[str, Thing]]:
    """Those of the things, each as it is compared and as it is offered, that are new; with keys."""
    seen = list(known)
    for neutral, thing in things:
        if neutral not in seen:
            seen.append(neutral)
            yield f"plan {len(seen)}", thing
