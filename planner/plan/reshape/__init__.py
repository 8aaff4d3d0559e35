"""Changes that touch several parts of a plan at once: each takes a plan and gives the one that follows.

What refers to a part by its name (aims, carries, drives) is carried along. Where the result makes no
sense by itself, :class:`planner.plan.PlanError` says so, as it does for single values.
"""

from planner.plan.reshape.amplifiers import (
    add_tap,
    amplifier_per_section,
    cable_kind,
    one_amplifier,
    remove_tap,
    residual_stated,
)
from planner.plan.reshape.candidates import (
    duplicate_candidate,
    move_candidate,
    remove_candidate,
    set_price,
)
from planner.plan.reshape.difference import first_difference
from planner.plan.reshape.footprints import set_side, side_of
from planner.plan.reshape.impedances import impedance_kind
from planner.plan.reshape.limits import box_kind, limits_stated
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.own_places import own_stands, whose_stands
from planner.plan.reshape.places import (
    add_seat,
    add_stand,
    aim_along,
    aim_at,
    carry,
    duplicate_seat,
    duplicate_stand,
    move_seat,
    move_stand,
    remove_seat,
    remove_stand,
    rename_seat,
)
from planner.plan.reshape.programme import hold_average, hold_peak
from planner.plan.reshape.radiation import baffle_kind, move_edge, radiator_kind, set_slope
from planner.plan.reshape.room import (
    add_furnishing,
    add_patch,
    describe_own,
    noise_kind,
    open_air,
    remove_furnishing,
    remove_patch,
    set_octave,
    with_room,
)
from planner.plan.reshape.sections import add_section, remove_section, rename_section, split_section
from planner.plan.reshape.sources import source_kind
from planner.plan.reshape.tolerances import own_tolerance, set_tolerance, usual_tolerances

__all__ = [
    "add_furnishing",
    "add_patch",
    "add_seat",
    "add_section",
    "add_stand",
    "add_tap",
    "aim_along",
    "aim_at",
    "amplifier_per_section",
    "baffle_kind",
    "box_kind",
    "cable_kind",
    "carry",
    "describe_own",
    "duplicate_candidate",
    "duplicate_seat",
    "duplicate_stand",
    "first_difference",
    "hold_average",
    "hold_peak",
    "impedance_kind",
    "limits_stated",
    "move_candidate",
    "move_edge",
    "move_seat",
    "move_stand",
    "noise_kind",
    "one_amplifier",
    "open_air",
    "own_stands",
    "own_tolerance",
    "radiator_kind",
    "remove_candidate",
    "remove_furnishing",
    "remove_patch",
    "remove_seat",
    "remove_section",
    "remove_stand",
    "remove_tap",
    "rename_seat",
    "rename_section",
    "residual_stated",
    "set_octave",
    "set_price",
    "set_side",
    "set_slope",
    "set_tolerance",
    "side_of",
    "source_kind",
    "split_section",
    "unique_name",
    "usual_tolerances",
    "whose_stands",
    "with_room",
]
