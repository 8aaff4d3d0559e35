"""How sure the answer at the seat looked at is, found once for everything that shows it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject

from planner.desktop.background import LateAnswer, Progress
from planner.desktop.document import PlanDocument
from planner.headroom.certainty import Certainty, certainty
from planner.headroom.compute import compute
from planner.headroom.outcome import SeatOutcome
from planner.plan import Plan, put
from planner.plan.model import Tolerances
from planner.report.words import chance_text, likely_word

__all__ = ["SHORT_MS", "SUSTAINED_MS", "Sureness", "certainty_of", "judge"]

# Drum attacks and sustained peaks: common practice, no published source.
SHORT_MS, SUSTAINED_MS = 5.0, 50.0
NO_CHANGE_DB = 0.05
UNBROKEN = "\N{NO-BREAK SPACE}"
translate = QCoreApplication.translate


@dataclass(frozen=True, eq=False)
class Sureness:
    """How sure the headroom at one seat is, and what it would be if peaks were shorter or longer."""

    plan: Plan
    seat: SeatOutcome
    sure: Certainty
    short_db: float
    sustained_db: float

    @property
    def tolerances(self) -> Tolerances:
        """One standard deviation of each input: the plan's own, or the usual ones."""
        return self.plan.tolerances or Tolerances()

    @property
    def transient_ms(self) -> float:
        """How long a peak is taken to last."""
        return float(self.plan.programme.transient_ms)

    def headline(self) -> str:
        """The chance in words."""
        word = likely_word(self.sure.chance_unclipped)
        text = translate("Certainty", "{likely} to play the peaks unclipped at {seat}: {chance}")
        return text.format(
            likely=word[:1].upper() + word[1:],
            seat=self.seat.name,
            chance=chance_text(self.sure.chance_unclipped).replace(" ", UNBROKEN),
        )

    def transient_text(self) -> str:
        """How the answer leans on the length of a peak."""
        words = {
            "last": f"{self.transient_ms:g}",
            "short": f"{SHORT_MS:g}",
            "long": f"{SUSTAINED_MS:g}",
            "at_short": signed_db(self.short_db),
            "at_long": signed_db(self.sustained_db),
        }
        if abs(self.short_db - self.sustained_db) < NO_CHANGE_DB:
            text = translate(
                "Certainty", "A peak is taken to last {last} ms; here the headroom does not lean on it."
            )
        else:
            text = translate(
                "Certainty",
                "The answer leans on how long a peak lasts, taken as {last} ms: at {short} ms, a sharp "
                "attack, headroom would be {at_short}; at {long} ms, a sustained peak, {at_long}.",
            )
        return text.format(**words)


def judge(plan: Plan, candidate: int, seat: int, progress: Progress) -> Sureness:
    """Judge how sure the headroom at a seat is; raises PlanError if the plan has findings."""
    now = compute(plan, candidate).seats[seat]
    (sure,) = certainty(plan, candidate, (seat,))
    short_db, sustained_db = (
        compute(_with_transient(plan, last_ms), candidate).seats[seat].headroom_db
        for last_ms in (SHORT_MS, SUSTAINED_MS)
    )
    return Sureness(plan, now, sure, short_db, sustained_db)


def certainty_of(document: PlanDocument) -> LateAnswer:
    """The answer of a document, one for all that show it; its value is a :class:`Sureness` or None."""
    asker = document.findChild(_Asker)
    return (asker if asker is not None else _Asker(document)).late


def signed_db(value_db: float) -> str:
    """A headroom with its sign and unit."""
    return f"{value_db:+.1f} dB".replace("-", "−")


class _Asker(QObject):
    """Asks about what the document shows, a preview too."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self._document = document
        self.late = LateAnswer(document, self._subject, judge, self)

    def _subject(self) -> tuple[Any, ...] | None:
        document = self._document
        return None if document.stale else (document.shown, document.candidate, document.seat)


def _with_transient(plan: Plan, last_ms: float) -> Plan:
    after = put(plan, ("programme", "transient_ms"), last_ms)
    assert isinstance(after, Plan)
    return after
