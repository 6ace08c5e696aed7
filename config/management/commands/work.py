"""The work behind the pages: letters, holds that end, offers, and forgetting."""

from __future__ import annotations

import logging
import signal
from argparse import ArgumentParser
from threading import Event
from types import FrameType
from typing import Any

from django.core.management.base import BaseCommand
from django.db import OperationalError, close_old_connections
from django.utils import timezone

from classes.services.chores import do_chores
from classes.services.letters import deliver_letters

EVERY_S = 2
CHORES_EVERY = 30

logger = logging.getLogger(__name__)


class Command(BaseCommand):
    help = "Send letters and do what is due, until stopped. `make serve` starts it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--once", action="store_true", help="do what is due, then stop")

    def handle(self, *, once: bool, **options: Any) -> None:
        if once:
            self.stdout.write(str(do_chores(at=timezone.now())))
            return
        stop = Event()

        def leave(number: int, frame: FrameType | None) -> None:
            stop.set()

        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, leave)
        self.stdout.write("Letters and other due work are looked after.")
        self.stdout.flush()
        turn = 0
        while not stop.is_set():
            self._turn(turn)
            turn += 1
            stop.wait(EVERY_S)

    def _turn(self, turn: int) -> None:
        close_old_connections()
        try:
            now = timezone.now()
            if turn % CHORES_EVERY == 0:
                do_chores(at=now)
            else:
                deliver_letters(at=now)
        except OperationalError:
            logger.exception("The database did not answer; trying again soon.")
