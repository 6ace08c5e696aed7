"""What each station avoids, without names: for the wall."""

from __future__ import annotations

from collections.abc import Iterable

from classes.core.diets.findings import Finding

ASK = "see the instructor"


def avoided_at(found: Iterable[Finding]) -> dict[str, tuple[str, ...]]:
    """What each station avoids: allergens by their labels, anything else only as `ASK`.

    People's own words stay off the wall: they may tell who they are.
    """
    stations: dict[str, list[str]] = {}
    for finding in found:
        words = list(finding.labels)
        if finding.eater.private or not words:
            words.append(ASK)
        stations.setdefault(finding.eater.station, []).extend(words)
    return {at: tuple(dict.fromkeys(words)) for at, words in stations.items()}
