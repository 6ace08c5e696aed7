"""Run every measurement: `python -m tests.bench` or `make bench`."""

from __future__ import annotations

import sys

import django


def main() -> int:
    django.setup()
    from django.test.utils import setup_databases, setup_test_environment, teardown_databases

    setup_test_environment()
    databases = setup_databases(verbosity=0, interactive=False)
    try:
        from tests.bench.measures import MEASURES

        results = [measure() for measure in MEASURES]
    finally:
        teardown_databases(databases, verbosity=0)
    for result in results:
        print(result.line())
    return 0 if all(result.holds for result in results) else 1


if __name__ == "__main__":
    sys.exit(main())
