"""How often something happened lately, counted in Django's cache across all processes.

With `CACHE_URL` it is counted across all machines. While that server does not answer, each machine
counts in its own files; if even that fails, everything counts as too often.
"""

from __future__ import annotations

import logging
import sys
from time import monotonic

from django.conf import settings
from django.core.cache import BaseCache, caches
from django.utils.crypto import salted_hmac

from config.cache import FileCache

REST_S = 10.0

logger = logging.getLogger(__name__)
_rests_until: dict[str, float] = {}


def count(what: str, seconds: int) -> int:
    """Count `what` once more; returns how often it happened in the seconds since its first time."""
    key = salted_hmac("bakebench count", what).hexdigest()
    for alias in settings.CACHES:
        if monotonic() < _rests_until.get(alias, 0):
            continue
        try:
            return _count_in(caches[alias], key, seconds)
        except Exception:  # any error of the cache's library
            _rests_until[alias] = monotonic() + REST_S
            logger.exception("The cache %s does not answer.", alias)
    return sys.maxsize


def drop_old() -> None:
    """Remove files of expired counts; a Redis server does so by itself."""
    for cache in caches.all(initialized_only=False):
        if isinstance(cache, FileCache):
            cache.drop_old()


def _count_in(cache: BaseCache, key: str, seconds: int) -> int:
    if cache.add(key, 1, seconds):
        return 1
    try:
        counted = cache.incr(key)
    except ValueError:  # it has just expired
        counted = 1
    if counted == 1:
        cache.set(key, 1, seconds)
    return counted
