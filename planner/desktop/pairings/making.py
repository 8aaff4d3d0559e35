"""From a pair to a candidate of the plan."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from planner.desktop.pairings.offers import Offer, neutral_amplifier, neutral_loudspeaker
from planner.plan import Plan
from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Candidate
from planner.plan.reshape import unique_name
from planner.plan.reshape.parts import changed

__all__ = ["candidates_of", "pair_name", "with_pair"]


def pair_name(loudspeaker: Offer[Loudspeaker], amplifier: Offer[Amplifier]) -> str:
    """What a candidate of two parts is called."""
    text = QCoreApplication.translate("Pairings", "{loudspeaker} with {amplifier}")
    return text.format(loudspeaker=loudspeaker.name, amplifier=amplifier.name)


def with_pair(plan: Plan, like: int, loudspeaker: Offer[Loudspeaker], amplifier: Offer[Amplifier]) -> Plan:
    """The plan with one more candidate, the last: the pair on the plan's stands, with the cable and source
    of the candidate *like*."""
    name = unique_name(pair_name(loudspeaker, amplifier), (one.name for one in plan.candidates))
    old = plan.candidates[like]
    made = Candidate(
        name=name,
        loudspeaker=loudspeaker.thing,
        amplifiers=(amplifier.thing,),
        cable=old.cable,
        source=old.source,
    )
    return changed(plan, candidates=(*plan.candidates, made))


def candidates_of(
    plan: Plan,
    like: int,
    loudspeakers: tuple[Offer[Loudspeaker], ...],
    amplifiers: tuple[Offer[Amplifier], ...],
) -> dict[tuple[str, str], int]:
    """Which pairs, by their keys, are candidates already: with the cable of *like*, on the plan's stands."""
    cable = plan.candidates[like].cable
    rows = [(neutral_loudspeaker(one.thing), one.key) for one in loudspeakers]
    columns = [(neutral_amplifier(one.thing), one.key) for one in amplifiers]
    found: dict[tuple[str, str], int] = {}
    for index, one in enumerate(plan.candidates):
        if one.stands is not None or len(one.amplifiers) != 1 or one.cable != cable:
            continue
        loudspeaker, amplifier = neutral_loudspeaker(one.loudspeaker), neutral_amplifier(one.amplifiers[0])
        row = next((key for thing, key in rows if thing == loudspeaker), None)
        column = next((key for thing, key in columns if thing == amplifier), None)
        if row is not None and column is not None:
            found.setdefault((row, column), index)
    return found
