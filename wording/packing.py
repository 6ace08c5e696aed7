"""How pieces lie in a pan, whether they touch, and how many fit."""

from __future__ import annotations

from recipes.core.numbers import ZERO
from recipes.core.pans.balls import Meeting, Touch
from recipes.core.pans.packing import Arrangement, Pattern
from recipes.core.pans.plan import MostThatFit
from wording.figures import NBSP, ONE, short

SIGNS = {Touch.TOUCH: "●", Touch.NEARLY: "◐", Touch.APART: "○"}


def lies(found: Arrangement) -> str:
    """How pieces lie: `8 around 3`, `3 straight rows of 4`, `staggered rows of 4, 3 and 4`."""
    counts = found.counts
    match found.pattern:
        case Pattern.HONEYCOMB:
            return "a honeycomb"
        case Pattern.SCATTERED:
            return "as drawn, in no rows"
        case Pattern.STRAIGHT | Pattern.STAGGERED:
            return _rows(found.pattern, counts)
    if len(counts) == 2:
        return f"{counts[0]} around {counts[1]}"
    return "one in the middle" if found.pieces == 1 else f"a ring of {found.pieces}"


def _rows(pattern: Pattern, counts: tuple[int, ...]) -> str:
    if counts == (1,):
        return "one in the middle"
    if set(counts) == {1} and pattern is Pattern.STAGGERED:
        return f"a zigzag of {len(counts)}"
    if len(counts) == 1 or set(counts) == {1}:
        return f"one row of {sum(counts)}"
    if len(set(counts)) == 1:
        return f"{len(counts)} {pattern} of {counts[0]}"
    return f"{pattern} of {', '.join(map(str, counts[:-1]))} and {counts[-1]}"


def pattern_note(found: Arrangement) -> str:
    """Where an arrangement comes from, in words under a drawing."""
    if found.pattern is Pattern.RINGS:
        return "even rings"
    if found.pattern in (Pattern.STRAIGHT, Pattern.STAGGERED):
        return "our own computation"
    if found.is_best_known:
        return "the best known places"
    return "a good arrangement; a better one may exist"


def how_many(most: MostThatFit) -> str:
    """How many pieces fit: `3 of them fit`, `at least 24 of them fit`, `not even one fits`."""
    if not most.pieces:
        return "not even one fits"
    words = "1 of them fits" if most.pieces == 1 else f"{most.pieces} of them fit"
    return f"at least {words}" if most.at_least else words


def verdict(meeting: Meeting) -> str:
    """Whether neighbors meet, as sign and word: `● touch`."""
    if meeting.gap_mm is None:
        return "○ a single piece"
    return f"{SIGNS[meeting.touch]} {meeting.touch}"


def gap(meeting: Meeting) -> str:
    """The gaps between neighbors: `4 to 7 mm apart`, `pressing 3 mm`."""
    if meeting.gap_mm is None or meeting.closest_gap_mm is None:
        return "no neighbors"
    least, most = (short(ONE, value) for value in (meeting.closest_gap_mm, meeting.gap_mm))
    if meeting.closest_gap_mm > 0:
        return f"{_range(least, most)}{NBSP}mm apart"
    if meeting.gap_mm > 0:
        return f"some touch, others up to {most}{NBSP}mm apart"
    pressed = (short(ONE, -value) for value in (meeting.gap_mm, meeting.closest_gap_mm))
    return f"pressing {_range(*pressed)}{NBSP}mm into each other"


def wall(meeting: Meeting) -> str:
    """How near the wall is: `3 mm from the wall` or `at the wall`."""
    apart = short(ONE, max(meeting.wall_gap_mm, ZERO))
    return "at the wall" if apart == "0" else f"{apart}{NBSP}mm from the wall"


def _range(least: str, most: str) -> str:
    return least if least == most else f"{least} to {most}"
