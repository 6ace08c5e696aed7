"""Whose measures a text says it uses: `UK measures`, `Australian tablespoons`."""

from __future__ import annotations

import re

from recipes.core.regions import HomeRegion

_COUNTRIES = {
    HomeRegion.US: r"US|U\.S\.|USA|American",
    HomeRegion.UK: r"UK|U\.K\.|British|[Ii]mperial",
    HomeRegion.AU: r"Australian|Aussie|AU",
    HomeRegion.CA: r"Canadian",
    HomeRegion.EU: r"EU|European|[Cc]ontinental",
}
_MEASURES = (
    r"(?:[Mm]easure(?:s|ments?)?|[Cc]ups?|[Tt]ablespoons?|[Tt]easpoons?|[Ss]poons?|[Tt]bsps?"
    r"|[Pp]ints?|[Qq]uantities|[Uu]nits|[Ee]ggs?|[Vv]olumes?)"
)
_NAMED = re.compile(
    r"\b(?:"
    + "|".join(f"(?P<{region.value}>{words})" for region, words in _COUNTRIES.items())
    + rf")[ \t]{{1,3}}(?:(?:standard|metric|large|medium|cup|and)[ \t]{{1,3}}){{0,2}}{_MEASURES}\b"
)


def named_region(text: str) -> HomeRegion | None:
    """The region whose measures a text names; None if it names none, or several."""
    found = {HomeRegion(named.lastgroup) for named in _NAMED.finditer(text) if named.lastgroup}
    return found.pop() if len(found) == 1 else None
