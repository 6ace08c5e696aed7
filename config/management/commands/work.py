"""Background work: papers, letters, holds that end, offers, and erasing."""

from __future__ import annotations

import gc
import logging
import signal
from argparse import ArgumentParser
from threading import Event
from types import FrameType
from typing import Any

from django.core.management.base import BaseCommand
from django.db import OperationalError, close_old_connections
from django.utils import timezone

from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.letters import deliver_letters
from config.server.queue import Queue
from handouts.press.tasks import press

EVERY_S = 0.4
LETTERS_EVERY, CHORES_EVERY = 5, 150

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
        press().warm()
        gc.freeze()  # as in `config.server.gunicorn`, for papers that are laid out in this process
        queue = Queue()
        queue.take_up_again()
        self.stdout.write("Working on papers, letters and other due work.")
        self.stdout.flush()
        turn = 0
        while not stop.is_set():
            self._turn(turn, queue)
            turn += 1
            stop.wait(EVERY_S)

    def _turn(self, turn: int, queue: Queue) -> None:
        close_old_connections()
        try:
            now = timezone.now()
            if turn % CHORES_EVERY == 0:
                do_chores(at=now)
            elif turn % LETTERS_EVERY == 0:
                deliver_letters(at=now)
            queue.work_off()
        except OperationalError:
            logger.exception("The database did not answer; trying again soon.")
