"""Run every measurement: `python -m tests.bench` or `make bench`."""

from __future__ import annotations

import sys

import django

from tests.bench.result import Result


def main() -> int:
    django.setup()
    from django.test.utils import setup_databases, setup_test_environment, teardown_databases

    setup_test_environment()
    databases = setup_databases(verbosity=0, interactive=False)
    try:
        from tests.bench.measures import MEASURES

        held = [_told(measure()) for measure in MEASURES]
    finally:
        teardown_databases(databases, verbosity=0)
    return 0 if all(held) else 1


def _told(result: Result) -> bool:
    """Print a result as soon as it is there; whether it holds."""
    print(result.line(), flush=True)
    return result.holds


if __name__ == "__main__":
    sys.exit(main())
