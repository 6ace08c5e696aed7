"""Several things as people say them: stations, `Bench 1, 2 and 3`, and pieces, `12 loaves`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

RUN_FROM = 4
_NUMBERED = re.compile(r"(.*[^0-9])([1-9][0-9]{0,5})")


def listed(words: Sequence[str], joint: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"


def either(words: Sequence[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    return listed(words, "or")


def joined(names: Iterable[str]) -> str:
    """Names that differ only in their last number are joined: `Bench 1 to 4 and 7, Sink`."""
    stems: dict[tuple[str, bool], list[int]] = {}
    for name in dict.fromkeys(names):
        if found := _NUMBERED.fullmatch(name):
            stems.setdefault((found[1], True), []).append(int(found[2]))
        else:
            stems[name, False] = []
    said = [f"{stem}{listed(_runs(sorted(numbers)))}" for (stem, _), numbers in stems.items()]
    return ", ".join(said) if any(len(numbers) > 1 for numbers in stems.values()) else listed(said)


def numbers_of(names: Iterable[str]) -> dict[str, str]:
    """The numbers of names that differ in nothing else, by name; none if they do."""
    found = {name: _NUMBERED.fullmatch(name) for name in names}
    stems = {match and match[1] for match in found.values()}
    if len(stems) > 1:
        return {}
    return {name: match[2] for name, match in found.items() if match}


def _runs(numbers: Sequence[int]) -> list[str]:
    """Numbers as words, four and more in a row as `1 to 4`."""
    rows: list[list[int]] = []
    for number in numbers:
        if rows and rows[-1][-1] == number - 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    return [
        word
        for row in rows
        for word in ([f"{row[0]} to {row[-1]}"] if len(row) >= RUN_FROM else map(str, row))
    ]


def pieces_in_words(pieces: int, name: str) -> str:
    """A number of pieces, for people to read: `1 loaf`, `12 loaves`."""
    return f"{pieces} {name if pieces == 1 else _plural(name)}"


def _plural(name: str) -> str:
    if name.endswith("loaf"):
        return f"{name[:-1]}ves"
    return f"{name}es" if name.endswith(("s", "x", "ch", "sh")) else f"{name}s"
