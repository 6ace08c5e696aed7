"""Faults that change nothing anybody can see, and why: by path, then by what is wrong."""

EQUAL: dict[tuple[str, str], str] = {}
