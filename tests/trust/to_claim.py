"""Make classes to claim: `python -m tests.trust.to_claim 12 40`.

Prints the codes of the classes, one for each number of seats, as a JSON list.
"""

from __future__ import annotations

import json
import sys
from datetime import timedelta

import django


def main(seats: list[int]) -> None:
    django.setup()
    from django.utils import timezone

    from tests.factories import planned_class

    codes = [
        planned_class(
            students=0,
            seats=count,
            kitchen__stations=-(-count // 4),
            starts_at=timezone.now() + timedelta(days=30),
            is_open=True,
        ).code
        for count in seats
    ]
    sys.stdout.write(json.dumps(codes))


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]])
