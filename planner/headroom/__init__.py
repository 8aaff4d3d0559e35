"""Watts and headroom: a plan and a candidate in, the outcome at every seat out."""

from planner.headroom.compute import compute, compute_all
from planner.headroom.outcome import Outcome

__all__ = ["Outcome", "compute", "compute_all"]
