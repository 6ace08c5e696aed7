"""Doubts about a step, as named values with fields; pages put them into words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.importing.doubts import Doubt


@dataclass(frozen=True, slots=True)
class TimeRange(Doubt):
    """A time from `low` to `high` minutes; the longer is taken, so that a class has time."""

    low: int
    high: int
    taken: int


@dataclass(frozen=True, slots=True)
class TimeVague(Doubt):
    """A time in words such as `overnight`; `taken` is the assumed minutes, None without any."""

    text: str
    taken: int | None


@dataclass(frozen=True, slots=True)
class TimeNotCounted(Doubt):
    """A time that was not added, such as `every 30 minutes` or the second of two choices."""

    text: str


@dataclass(frozen=True, slots=True)
class TimeOfWhat(Doubt):
    """A time with no word that says what it is for; it is counted for the step it is in."""

    text: str


@dataclass(frozen=True, slots=True)
class WorkAndWait(Doubt):
    """Hands-on and waiting minutes in one step, which may be two steps."""

    hands_on: int
    waiting: int


@dataclass(frozen=True, slots=True)
class NumberNotRead(Doubt):
    """A number that is not a time, temperature or amount, with the word before it."""

    text: str


@dataclass(frozen=True, slots=True)
class TemperatureAside(Doubt):
    """A temperature that is not taken for the step, such as that of the water."""

    text: str
    celsius: Decimal


@dataclass(frozen=True, slots=True)
class TimeTooLong(Doubt):
    """More minutes than a step can have; nothing was taken."""

    minutes: int


@dataclass(frozen=True, slots=True)
class TimesAdded(Doubt):
    """Several times of one step, in minutes, added up."""

    minutes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LongWork(Doubt):
    """More hands-on minutes than usual; the dough may be waiting in them."""

    minutes: int


@dataclass(frozen=True, slots=True)
class TimesDisagree(Doubt):
    """Minutes by the clock that differ from those in words; those in words are taken."""

    by_clock: int
    taken: int


@dataclass(frozen=True, slots=True)
class StageWorkedOut(Doubt):
    """A stage of a bake whose minutes were worked out, of `in_all` minutes if known."""

    in_all: int | None


@dataclass(frozen=True, slots=True)
class NoTime(Doubt):
    """A rise or a bake that says no time."""


@dataclass(frozen=True, slots=True)
class NoShaping(Doubt):
    """A bread is baked but no step divides or shapes it: a rise may be its proof."""


@dataclass(frozen=True, slots=True)
class UnusualHeat(Doubt):
    """A bake so cold, or other work so hot, that the temperature may belong to something else."""

    celsius: Decimal


@dataclass(frozen=True, slots=True)
class NoOvenTemperature(Doubt):
    """A bake for which no temperature of the oven is said."""


@dataclass(frozen=True, slots=True)
class KindGuessed(Doubt):
    """A wait that may be a rise, a rest or cooling; the step's kind is what was assumed."""

    text: str


@dataclass(frozen=True, slots=True)
class AheadAssumed(Doubt):
    """Something that stands for hours before the dough is mixed, taken as made ahead."""

    minutes: int


@dataclass(frozen=True, slots=True)
class ScaleAssumed(Doubt):
    """Degrees without a scale, or a gas mark."""

    text: str
    taken_c: Decimal


@dataclass(frozen=True, slots=True)
class FanConverted(Doubt):
    """An oven's setting given only with a fan, converted to one without."""

    fan_c: Decimal
    taken_c: Decimal


@dataclass(frozen=True, slots=True)
class ColdAssumed(Doubt):
    """A refrigerator without a stated temperature, taken as the usual one."""

    taken_c: Decimal


@dataclass(frozen=True, slots=True)
class MoreTemperatures(Doubt):
    """Further temperatures of a step, which keeps only the first."""

    celsius: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class TemperatureRange(Doubt):
    """A temperature from `low` to `high` degrees Celsius; the middle is proposed."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class TemperatureOutOfRange(Doubt):
    """A temperature that no kitchen has, in degrees Celsius; nothing was taken."""

    celsius: Decimal


@dataclass(frozen=True, slots=True)
class TemperatureOfWhat(Doubt):
    """A temperature of rising dough that may be the dough's or the room's; neither is taken."""


@dataclass(frozen=True, slots=True)
class WorkedTwoWays(Doubt):
    """A step that names more than one of hands, machine and pan; none is taken."""


@dataclass(frozen=True, slots=True)
class WorkNotRead(Doubt):
    """Words of work of a kind that no step of their sentence does."""

    of_kind: str
    text: str


@dataclass(frozen=True, slots=True)
class TimeByClock(Doubt):
    """Minutes that no word says: the time of day at which the next work begins says them."""

    minutes: int


@dataclass(frozen=True, slots=True)
class UnusualTime(Doubt):
    """Waiting minutes far from what is usual for the kind of step."""

    minutes: int


@dataclass(frozen=True, slots=True)
class UnusualOrder(Doubt):
    """A step at an unusual place among the others: its kind may be misread."""


@dataclass(frozen=True, slots=True)
class NoStepOf(Doubt):
    """A kind of step that a bread needs, and the text does not seem to have."""

    of_kind: str
