"""Words for pairs: what comes of one, and why one cannot take part."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from planner.desktop.catalogue.words import unbroken
from planner.desktop.charts.seat_panel import signed
from planner.desktop.fields.note import in_units
from planner.desktop.pairings.answer import Pair
from planner.desktop.settings import settings
from planner.desktop.theme import verdict_word
from planner.plan import Finding
from planner.report.words import watts_text

__all__ = ["below_text", "headroom_text", "pair_sentence", "reason"]

translate = QCoreApplication.translate


def headroom_text(pair: Pair) -> str:
    """The headroom of a pair with its sign."""
    return signed(pair.headroom_db)


def below_text(pair: Pair) -> str:
    """What stands below the headroom: the watts that peaks ask, or what gives out before those matter."""
    if pair.loudspeaker_first:
        return translate("Pairings", "loudspeaker")
    return watts_text(pair.watts_needed)


def pair_sentence(name: str, pair: Pair, seat: str) -> str:
    """What comes of a pair at a seat, in a sentence."""
    text = translate("Pairings", "{name}: {verdict}, {headroom} dB at {seat}; peaks ask {need} of {have}.")
    said = text.format(
        name=name,
        verdict=verdict_word(pair.verdict).lower(),
        headroom=headroom_text(pair),
        seat=seat,
        need=watts_text(pair.watts_needed),
        have=watts_text(pair.watts_rated),
    )
    if pair.loudspeaker_first:
        more = translate("Pairings", "The loudspeaker gives out before the amplifier does.")
        said = f"{said} {more}"
    return unbroken(said)


def reason(findings: tuple[Finding, ...]) -> str:
    """Why a loudspeaker or an amplifier cannot take part, in a sentence."""
    return " ".join(dict.fromkeys(_sentence(one) for one in findings))


def _sentence(finding: Finding) -> str:
    path, found, expected = finding.path, finding.value, finding.expected
    known = (
        (
            path.endswith("loudspeaker.impedance"),
            translate("Pairings", "Wants an amplifier for each section; here one drives all."),
        ),
        (
            path.endswith("carries") or found.startswith("no stand carries"),
            translate("Pairings", "The stands carry sections by name, and it has others."),
        ),
        (
            path.startswith("stands[") and found.endswith("from a wall"),
            translate("Pairings", "Belongs flush in a wall, and a stand is away from any."),
        ),
        (path.endswith("tap_ohm"), translate("Pairings", "Its tap in use is none of its taps.")),
        (
            path.endswith("loudspeaker.sections") and "20 Hz" in expected,
            translate("Pairings", "None of its sections plays between 20 Hz and 20 kHz."),
        ),
    )
    return next((words for fits, words in known if fits), "") or _plain(found, expected)


def _plain(found: str, expected: str) -> str:
    """What a finding says, in the units preferred."""
    units = settings().units
    text = translate("Pairings", "Expected {expected}.")
    if found:
        text = translate("Pairings", "Expected {expected}; found {found}.")
    return text.format(expected=in_units(expected, units), found=in_units(found, units))
