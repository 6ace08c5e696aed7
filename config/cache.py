"""Django's file cache, without losing counts among the processes that share it."""

from __future__ import annotations

import os
import pickle
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.cache.backends.base import DEFAULT_TIMEOUT
from django.core.cache.backends.filebased import FileBasedCache
from django.core.files import locks


class FileCache(FileBasedCache):
    """Only one process at a time adds and counts. With Django's own, two at once count as one."""

    # Attributes of Django's class that its stubs leave out.
    default_timeout: float
    _dir: str
    _createdir: Callable[[], None]
    _delete: Callable[[str], bool]
    _key_to_file: Callable[[str, int | None], str]
    _list_cache_files: Callable[[], list[str]]

    @contextmanager
    def _alone(self) -> Iterator[None]:
        self._createdir()
        if os.stat(self._dir).st_uid != os.geteuid():
            raise PermissionError(f"{self._dir} belongs to somebody else.")
        with (Path(self._dir) / "lock").open("ab") as file:
            locks.lock(file, locks.LOCK_EX)
            yield

    def add(
        self,
        key: str,
        value: object,
        timeout: float | None = DEFAULT_TIMEOUT,
        version: int | None = None,
    ) -> bool:
        with self._alone():
            return super().add(key, value, timeout, version)

    def incr(self, key: str, delta: int = 1, version: int | None = None) -> int:
        """Add to a count; the key keeps its expiry. Raises ValueError without one."""
        with self._alone():
            count: int | None = self.get(key, version=version)
            if count is None:
                raise ValueError(f"There is no {key} to count on from.")
            with open(self._key_to_file(key, version), "rb") as file:
                ends_at = pickle.load(file)  # noqa: S301  (our own, as Django reads it)
            self.set(key, count + delta, ends_at - time.time(), version)
            return count + delta

    def _cull(self) -> None:
        """`drop_old` does that: Django would list all files each time it writes one."""

    def drop_old(self) -> None:
        """Remove what has certainly expired."""
        with self._alone():
            for name in self._list_cache_files():
                if Path(name).stat().st_mtime < time.time() - self.default_timeout:
                    self._delete(name)
