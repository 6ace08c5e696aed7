"""Since when each thing that somebody must not eat has been known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from classes.core.diets.words import keys_in, one_key

Since = Mapping[str, str]


def told_since(before: Since, allergens: Iterable[str], words: str, *, at: datetime) -> Since:
    """What is told now, thing by thing, with the time it was first told, as ISO text.

    A thing is an allergen's key or the person's own words. Allergens that the words name are as
    new as the words, for words that change may mean more than they did.
    """
    marked = dict.fromkeys(map(one_key, allergens))
    since = {key: before.get(key, at.isoformat()) for key in marked}
    if words:
        since[words] = before.get(words, at.isoformat())
        since |= dict.fromkeys(keys_in(words), since[words])
    return since


def known_by(since: Since, things: Iterable[str], at: datetime) -> bool:
    """Whether all of these had been told by a moment; what has no time was not."""
    return all(thing in since and datetime.fromisoformat(since[thing]) <= at for thing in things)
