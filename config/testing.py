"""Settings of the test run: a key of its own, no `.env`, none of the user's data.

`TEST_DATABASE_URL` runs the same tests on another database, `TEST_DATA_DIR` in another folder,
so that two runs can go on side by side.
"""

import os
from pathlib import Path

_DATA_DIR = os.environ.get("TEST_DATA_DIR", ".test-data")
_FIXED = {
    "SECRET_KEY": "only-for-tests-0123456789-abcdefghijklmnopqrstuvwxyz-0123456789",
    "DEBUG": "False",
    "ALLOWED_HOSTS": "127.0.0.1,localhost,[::1]",
    "CSRF_TRUSTED_ORIGINS": "",
    "DATA_DIR": _DATA_DIR,
    "TIME_ZONE": "UTC",
    "HTTPS": "False",
    "TRUST_PROXY": os.environ.get("TEST_TRUST_PROXY", "False"),
    "LINK_DAYS": "60",
    "EMAIL_URL": "console:",
    "CACHE_URL": os.environ.get("TEST_CACHE_URL", ""),
    "LOG_LEVEL": "INFO",
    "PRESS_PROCESSES": "0",
}
os.environ.update(_FIXED)
os.environ["DATABASE_URL"] = os.environ.get(
    "TEST_DATABASE_URL", f"sqlite:///{_DATA_DIR}/unused.sqlite3"
)

from config.environment import DATA_DIR  # noqa: E402
from config.settings import *  # noqa: E402, F403  (the environment must be set first)
from config.settings import CACHES, DATABASES, STATIC_ROOT, STORAGES  # noqa: E402

STATIC_ROOT.mkdir(parents=True, exist_ok=True)
STORAGES["staticfiles"] = {
    "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage",
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # A file: the browser tests' server threads then have connections of their own.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / "test.sqlite3")}

# Each of several test processes counts for itself.
for _cache in CACHES.values():
    if _cache["BACKEND"] == "config.cache.FileCache":
        _cache["LOCATION"] = Path(str(_cache["LOCATION"])) / os.environ.get(
            "PYTEST_XDIST_WORKER", "alone"
        )

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
