"""The background work, which writes into a file how far its packs are.

Once it has made so many papers of a pack, it stands still for ever: python -m tests.trust.to_stall
FILE PAPERS.
"""

from __future__ import annotations

import sys
from pathlib import Path
from threading import Event

import django
from django.core.management import call_command


def main(file: Path, papers: int) -> None:
    django.setup()
    from handouts.press import packs

    go_on = packs._progress

    def stand_still(pack: packs.Pack, done: int, total: int) -> None:
        if done > papers:
            Event().wait()
        go_on(pack, done, total)
        with file.open("a") as told:
            told.write(f"{done} of {total}\n")

    packs._progress = stand_still
    call_command("work")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
