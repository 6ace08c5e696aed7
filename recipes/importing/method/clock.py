"""Times of day at which work begins: `08:10 - Mix`, `08:30 to 09:30 First rise`, `8.15 am bake`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.text.tokens import Token

DAY_MIN = 1440

_TIME = (
    r"(?:(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow|next day),? )?"
    r"(?:at |from |by |t ?\+ ?)?(?:(?P<h{0}>[0-9]{{1,2}})(?::|(?P<dot{0}>\.))(?P<m{0}>[0-5][0-9])"
    r"|(?P<hour{0}>[0-9]{{1,2}})(?= ?[ap]\.?m))(?![0-9:])(?: ?(?P<half{0}>[ap])\.?m\b\.?)?"
)
_START = re.compile(
    _TIME.format(1) + r"(?: ?(?:->|-|to|until) ?" + _TIME.format(2) + r")?(?P<gap> ?[-:,|]? ?)",
    re.IGNORECASE,
)
_WITHIN = re.compile(r"[,;] (?:then |and )?(?=(?:at )?[0-9]{1,2}[:.][0-5][0-9] )", re.IGNORECASE)
_LENGTHS = re.compile(r"(?:h|hrs?|hours?|min|mins|minutes)\b", re.IGNORECASE)
_TIME_OF_DAY = re.compile(
    r"(?P<hour>[0-9]{1,2})(?:[:.](?P<minute>[0-5][0-9])(?![0-9]))?(?:(?P<half>[ap])\.?m)?"
)
_WORD = re.compile(r"[a-z]+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Clocked:
    """What begins at minute `begins` of the day; `ends` if that is also stated."""

    begins: int | None
    ends: int | None
    text: str


def clocked(text: str) -> Iterator[Clocked]:
    """A cleaned sentence, divided where a time of day begins new work."""
    if not any(sign.isdigit() for sign in text):
        yield Clocked(None, None, text)
        return
    pieces = _WITHIN.split(text) if _start(text) else [text]
    for piece in pieces:
        yield _start(piece) or Clocked(None, None, piece)


def _start(text: str) -> Clocked | None:
    found = _START.match(text)
    if found is None or _LENGTHS.match(text, found.end()):
        return None
    begins, ends = _minute(found, 1), _minute(found, 2)
    if begins is None or not text[found.end() :]:
        return None
    word = _WORD.match(text, found.end())
    if found["dot1"] and not found["half1"] and not (word and word[0].lower() in STEP_VERBS):
        return None
    return Clocked(begins, ends, text[found.end() :])


def _minute(found: re.Match[str], n: int) -> int | None:
    hour, half = found[f"h{n}"] or found[f"hour{n}"], found[f"half{n}"]
    if hour is None or int(hour) > 24:
        return None
    hours = int(hour) % 12 + 12 * (half.lower() == "p") if half else int(hour)
    return hours * 60 + int(found[f"m{n}"] or 0)


def minutes_between(begins: int, ends: int) -> int:
    """From one time of day to the next, past midnight if necessary."""
    return (ends - begins) % DAY_MIN


def clock_at(tokens: Sequence[Token], i: int) -> tuple[int, int] | None:
    """The minute of the day of `8:15` or `8.15 pm`, and the token behind it."""
    found = _TIME_OF_DAY.match("".join(token.low for token in tokens[i : i + 5]))
    if found is None or int(found["hour"]) > 24 or not (found["minute"] or found["half"]):
        return None
    end = i
    while sum(len(token.text) for token in tokens[i:end]) < found.end():
        end += 1
    hours = int(found["hour"])
    hours = hours % 12 + 12 * (found["half"] == "p") if found["half"] else hours
    return hours * 60 + int(found["minute"] or 0), end
