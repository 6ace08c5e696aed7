"""Who stands where: people spread over stations as evenly as the places allow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StationPlaces:
    """A station and how many people it holds."""

    station: str
    places: int


def even_sizes(people: int, stations: Sequence[StationPlaces], taken: Counter[str]) -> Counter[str]:
    """How many more people go to each station so that all end up as equal as can be.

    A full station takes more only when every other is full too; the earlier station first.
    """
    sizes = Counter(taken)
    for _ in range(people):
        free = [at for at in stations if sizes[at.station] < at.places] or list(stations)
        sizes[min(free, key=lambda at: sizes[at.station]).station] += 1
    return sizes - taken


def seat_people(wanted: Sequence[str | None], stations: Sequence[StationPlaces]) -> tuple[str, ...]:
    """A station for everybody, in order; None means wherever there is room.

    A wish for a station that is not among `stations` counts as None. Neighbors in the
    order stay together: 11 people at three stations are 4, 4 and 3.
    Raises ValueError without any station.
    """
    if not stations:
        raise ValueError("no stations")
    known = {at.station for at in stations}
    kept = [wish if wish in known else None for wish in wanted]
    taken = Counter(wish for wish in kept if wish is not None)
    more = even_sizes(kept.count(None), stations, taken)
    free = iter([at.station for at in stations for _ in range(more[at.station])])
    return tuple(wish if wish is not None else next(free) for wish in kept)
