"""Ask for papers of the demo on a server: prints the pack's number."""

from __future__ import annotations

import sys

import django


def main() -> int:
    django.setup()
    from django.utils import timezone

    from classes.management.commands.load_demo import load_demo
    from handouts.press.render import PageSize
    from handouts.press.tasks import ask_for_pack

    demo = load_demo(now=timezone.now())
    pack = ask_for_pack(
        session=demo,
        by=demo.instructor,
        kinds=["handouts", "station-cards"],
        page_size=PageSize.A4,
        layout="",
        only_changed=False,
        at=timezone.now(),
    )
    print(pack.pk)  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main())
