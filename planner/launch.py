"""Open the window, or on a machine without a screen give the answer in words instead."""

from __future__ import annotations

import sys

from planner.platform_check import apt_line, display_state, missing

__all__ = ["open_window"]

LACKS = 3


def open_window(plan: str | None) -> int:
    """Show the window with a plan, or with the demo room; the exit status of the program."""
    if display_state() != "ok":
        return _answer_without_screen(plan)
    lacking = missing(need_window=True)
    if lacking:
        names = ", ".join(name for name, _ in lacking)
        print(f"Few Watts cannot open its window: this machine lacks {names}.", file=sys.stderr)
        print(f"Install them with: {apt_line(lacking)}", file=sys.stderr)
        return LACKS
    from planner.desktop.application import run

    return run(plan)


def _answer_without_screen(plan: str | None) -> int:
    from planner.report.answers import CLEAR, SHORT, check
    from planner.resources import demo_rooms

    path = plan or str(demo_rooms() / "map_room.json")
    print(f"No screen here, so Few Watts opens no window; the answer of {path}:", flush=True)
    # A first look at the program is no failure because some candidate falls short.
    status = check([path], as_json=False, output=None)
    return CLEAR if status == SHORT else status
