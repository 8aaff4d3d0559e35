"""The document: plan files and what they hold."""

from planner.plan.checks import cross_checks
from planner.plan.edit import get, put
from planner.plan.errors import Finding, PlanError
from planner.plan.model import Plan
from planner.plan.storage import dumps, load, loads, save

__all__ = ["Finding", "Plan", "PlanError", "cross_checks", "dumps", "get", "load", "loads", "put", "save"]
