"""How often something happened lately, in Django's cache: counted over all processes together.

With `CACHE_URL` it is counted over all machines. While that server does not answer, each machine
goes on counting in files of its own; where even that fails, everything has happened too often.
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
    """Count `what` once more; how often it was, in the seconds that its first time began."""
    key = salted_hmac("bakebench count", what).hexdigest()
    for alias in settings.CACHES:
        if monotonic() < _rests_until.get(alias, 0):
            continue
        try:
            return _count_in(caches[alias], key, seconds)
        except Exception:  # whatever the cache's own library raises
            _rests_until[alias] = monotonic() + REST_S
            logger.exception("The cache %s does not answer.", alias)
    return sys.maxsize


def drop_old() -> None:
    """Remove files of counts that have ended; a Redis server does so by itself."""
    for cache in caches.all(initialized_only=False):
        if isinstance(cache, FileCache):
            cache.drop_old()


def _count_in(cache: BaseCache, key: str, seconds: int) -> int:
    if cache.add(key, 1, seconds):
        return 1
    try:
        counted = cache.incr(key)
    except ValueError:  # its seconds have just ended
        counted = 1
    if counted == 1:
        cache.set(key, 1, seconds)
    return counted
