"""The tasks of the Routine sheet: which shows which, which covers all craft, and the code that tells its lack."""

from __future__ import annotations

# What shows a task besides a line of its own: the paragraph of the wider task contains the narrower one.
ALSO_SHOWN_BY: dict[str, tuple[str, ...]] = {
    "weekly inspection": ("monthly inspection",),  # III/20.7.2 looks at all that III/20.6.1 does
    "boats moved from stowage": ("boats turned out", "lifeboat launched"),  # III/20.6.3, 20.7.1, 19.3.4.3
    "boats turned out": ("lifeboat launched",),
    "engine run": ("lifeboat launched", "free-fall launch", "rescue boat launched"),  # manoeuvred: the engine ran
    "free-fall boarding drill": ("free-fall launch",),  # III/19.3.4.4: boarding is part of a launch
    "general alarm test": ("abandon ship drill",),  # III/19.3.4.1: the drill begins with the alarm
}
# The texts of these two say 'weather and sea conditions so allowing' (III/20.6.3, 20.7.1).
WEATHER = frozenset({"routine.boats-moved", "routine.boats-turned-out"})
# One line for one craft says nothing of the others: each craft must have been covered.
COVERING = frozenset({"weekly inspection", "monthly inspection"})
# A line of these about one place or craft does not speak for the ship.
WHOLE = COVERING | {f"fire {period} inspection" for period in ("weekly", "monthly", "quarterly", "annual")}
DRILLS = frozenset({"abandon ship drill", "fire drill", "enclosed space drill"})
INSPECTIONS = COVERING | {"engine run", "boats moved from stowage", "general alarm test", "boats turned out"}
TRAINING = DRILLS | {"joining training"}


def shown_by(task: str) -> tuple[str, ...]:
    """The tasks whose lines show that a task was carried out."""
    return (task, *ALSO_SHOWN_BY.get(task, ()))


def code_of(task: str) -> str:
    """The code that tells the lack of a task."""
    if task in INSPECTIONS:
        return "RT01"
    if task.startswith("fire ") and task not in DRILLS:
        return "RT02"
    return "RT03"
