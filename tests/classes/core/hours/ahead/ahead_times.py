"""What is done ahead of a class, as the tests of it ask for it."""

from classes.core.hours.ahead.everything import ahead_of
from tests.classes.core.hours.demo_classes import ROLLS, TWO_DAYS, clock, planned, recipe

LOAF = recipe()
BATARD = recipe(TWO_DAYS, key="batard")
SOFT = recipe(ROLLS, key="rolls", softens_butter=True, chills=True)


def ahead(class_work):
    """What is done ahead of a class, by key."""
    scheduled, solved = planned(class_work)
    return {task.key: task for task in ahead_of(scheduled, solved.plan)}


def first_start(class_work, what):
    """When the first task of a key that begins so starts in the class."""
    _, solved = planned(class_work)
    return min(slot.start for key, slot in solved.plan.slots.items() if key.startswith(what))


def times(task):
    """From when to when hands are at a task."""
    return clock(task.starts), clock(task.starts + task.hands_min)
