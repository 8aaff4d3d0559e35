"""Findings put beside what they are about: each goes to the note that stands nearest to its path."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.desktop.fields import Note, Place
from planner.plan import Finding, Plan
from planner.plan.edit import path_text
from planner.report.language import tr

__all__ = ["concerns", "spread"]


def concerns(finding: Finding, place: Place) -> bool:
    """Whether a finding is about a place or something in it."""
    here = path_text(place.path)
    return finding.path == here or finding.path.startswith((f"{here}.", f"{here}["))


def spread(findings: Sequence[Finding], notes: Iterable[Note], rest: Note, plan: Plan) -> None:
    """Show each finding in the note with the longest place that it concerns, or in *rest*."""
    shown: dict[Note, list[Finding]] = defaultdict(list)
    notes = [note for note in notes if note.places]
    for finding in findings:
        near = [
            (len(place.path), number)
            for number, note in enumerate(notes)
            for place in note.places
            if concerns(finding, place)
        ]
        if near:
            shown[notes[max(near)[1]]].append(finding)
        else:
            shown[rest].append(_placed(finding, plan))
    for note in (*notes, rest):
        note.show_findings(shown[note])


def _placed(finding: Finding, plan: Plan) -> Finding:
    """The finding with the name of the candidate that it is about, where that is not the one looked at."""
    for number, candidate in enumerate(plan.candidates):
        if concerns(finding, Place("candidates", number)):
            expected = tr("{expected}, in {system}", expected=finding.expected, system=candidate.name)
            return replace(finding, expected=expected)
    return finding
