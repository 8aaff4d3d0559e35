"""The source of a candidate: of line level, or a cartridge with its phono stage."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from planner.plan.edit import Path, get
from planner.plan.model import Plan
from planner.plan.reshape.parts import placed

__all__ = ["source_kind"]

TYPICAL_SOURCES: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "line": {"volts": 2.0},
        "phono": {"cartridge_mv": 4.0, "phono_gain_db": 40.0},
    }
)
"""Figures to begin from: common practice, no published source."""


def source_kind(plan: Plan, candidate: int, kind: str | None) -> Plan:
    """The plan with a source of "line" level or a cartridge ("phono") for a candidate, or none for None."""
    path: Path = ("candidates", candidate, "source")
    known = get(plan, path)
    if (None if known is None else known.kind) == kind:
        return plan
    return placed(plan, path, None if kind is None else {"kind": kind, **TYPICAL_SOURCES[kind]})
