"""Counts that all processes of a server share, in memory that they inherit from the first."""

from __future__ import annotations

import os
from hashlib import blake2b
from mmap import mmap
from struct import Struct
from time import time

_ENTRY = Struct("=III")  # whose it is, when it began, how many
_BUCKET = 4


class SharedCounts:
    """How often each of many things happened within some seconds of its first time.

    To be made before the server splits off its processes. Memory is of a fixed size: of five things
    that fall into one of `buckets` at a time the oldest is forgotten. Two processes that count the
    same thing in the same instant may count it once.
    """

    def __init__(self, buckets: int = 16_384) -> None:
        self._memory = mmap(-1, buckets * _BUCKET * _ENTRY.size)
        self._buckets = buckets
        self._salt = os.urandom(16)

    def add(self, what: str, seconds: int) -> int:
        """Count `what` once more; how often it was counted in the seconds that run now."""
        now = int(time())
        owner, entries = self._entries(what)
        for (whose, began, count), at in entries:
            if whose == owner and 0 <= now - began < seconds:
                self._write(at, owner, began, count + 1)
                return count + 1
        oldest = min(entries, key=lambda pair: (pair[0][0] != owner, pair[0][1]))[1]
        self._write(oldest, owner, now, 1)
        return 1

    def so_far(self, what: str, seconds: int) -> int:
        """How often `what` was counted in the seconds that run now."""
        now = int(time())
        owner, entries = self._entries(what)
        return max(
            (
                count
                for (whose, began, count), _ in entries
                if whose == owner and 0 <= now - began < seconds
            ),
            default=0,
        )

    def drop(self, what: str) -> None:
        """Begin anew with one thing."""
        owner, entries = self._entries(what)
        for (whose, *_), at in entries:
            if whose == owner:
                self._write(at, 0, 0, 0)

    def forget(self) -> None:
        """Begin anew."""
        self._memory[:] = bytes(len(self._memory))

    def _entries(self, what: str) -> tuple[int, list[tuple[tuple[int, int, int], int]]]:
        """Whose mark it has, and the entries that may be its own, each with its place."""
        owner, bucket = self._place(what)
        first = bucket * _BUCKET
        return owner, [(self._read(at), at) for at in range(first, first + _BUCKET)]

    def _place(self, what: str) -> tuple[int, int]:
        digest = blake2b(what.encode(), digest_size=12, key=self._salt).digest()
        owner = int.from_bytes(digest[:4], "big") or 1  # 0 marks an entry that nobody used yet
        return owner, int.from_bytes(digest[4:], "big") % self._buckets

    def _read(self, at: int) -> tuple[int, int, int]:
        return _ENTRY.unpack_from(self._memory, at * _ENTRY.size)

    def _write(self, at: int, *values: int) -> None:
        _ENTRY.pack_into(self._memory, at * _ENTRY.size, *values)
