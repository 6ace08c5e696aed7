"""One profile for every property: no deadline on a shared machine, and a modest count."""

from hypothesis import settings

settings.register_profile("core", deadline=None, max_examples=30)
settings.load_profile("core")
