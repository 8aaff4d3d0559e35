"""The whole report in order: all candidates, each of them, the question, the formulas, the colophon."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from datetime import date

from planner import __version__
from planner.plan import Plan, dumps
from planner.plan.units import Preference
from planner.report.content.answers import amplifier_tables, answer_tables, ladder_tables, limit_tables
from planner.report.content.bands import band_tables
from planner.report.content.blocks import Block, Heading, NewPage, Terms, Title
from planner.report.content.buyer import buyer_page
from planner.report.content.comparison import comparison_page
from planner.report.content.doubt import certainty_tables, way_tables
from planner.report.content.formulas import formula_list
from planner.report.content.inputs import question_inputs, system_inputs
from planner.report.content.recording import recording_terms
from planner.report.content.rooms import room_tables
from planner.report.content.silence import gain_tables, noise_tables
from planner.report.gather import Case
from planner.report.language import tr

__all__ = ["plan_digest", "whole_report"]


def whole_report(
    cases: Sequence[Case], preference: Preference, on: date, *, prices: bool = False
) -> tuple[Block, ...]:
    """Every block of the report; prices are told only to those who ask."""
    return tuple(_blocks(cases, preference, on, prices=prices))


def _blocks(cases: Sequence[Case], preference: Preference, on: date, *, prices: bool) -> Iterator[Block]:
    plan = cases[0].plan
    if len(cases) > 1:
        yield from comparison_page(cases, preference, prices=prices)
    for number, case in enumerate(cases):
        if number or len(cases) > 1:
            yield NewPage()
        yield from buyer_page(case, preference, prices=prices)
        yield NewPage()
        yield from _designer(case, preference)
    yield NewPage()
    yield from question_inputs(plan, preference)
    yield from room_tables(cases)
    yield from formula_list()
    yield from _colophon(plan, on)


def _designer(case: Case, preference: Preference) -> Iterator[Block]:
    """The designer's pages of one candidate."""
    yield Title(tr("For the designer"), case.candidate.name)
    yield from answer_tables(case, preference)
    yield from ladder_tables(case)
    yield from limit_tables(case)
    yield from amplifier_tables(case)
    yield from recording_terms(case)
    yield from certainty_tables(case)
    yield from way_tables(case, preference)
    yield from noise_tables(case)
    yield from gain_tables(case)
    yield NewPage()
    yield from band_tables(case)
    yield from system_inputs(case, preference)


def _colophon(plan: Plan, on: date) -> Iterator[Block]:
    yield Heading(tr("About this report"))
    yield Terms(
        (
            (tr("Program"), tr("Few Watts {version}", version=__version__)),
            (tr("Date"), on.isoformat()),
            (tr("Plan"), plan.title),
            (
                tr("SHA-256"),
                tr("{digest}, of the plan as JSON with sorted keys and no spaces", digest=plan_digest(plan)),
            ),
        )
    )


def plan_digest(plan: Plan) -> str:
    """SHA-256 of a plan's canonical JSON: keys sorted, no spaces, UTF-8; equal plans have equal ones."""
    canonical = json.dumps(
        json.loads(dumps(plan)), sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )
    return hashlib.sha256(canonical.encode()).hexdigest()
