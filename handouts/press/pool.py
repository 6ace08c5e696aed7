"""Processes that lay out papers, kept warm: layout is busy work, so one for each core.

They are started afresh and not forked, so that they hold none of the caller's database
connections, and they leave with the process that started them.
"""

from __future__ import annotations

import gc
import multiprocessing
import multiprocessing.connection
import os
import signal
from concurrent.futures import Future, ProcessPoolExecutor
from itertools import count
from threading import Thread
from types import FrameType, TracebackType
from typing import Self

from handouts.press.errors import TooLong
from handouts.press.markup import Markup

# Longer than any paper of ours takes by far; a name of 10,000 letters is cut before.
LONGEST_S = 60
# A paper leaves a few megabytes. Papers for 24 took one process 8.5 s where Python looked for
# garbage by itself, 6.8 s where it left alone what was loaded, 6.1 s looking once in a while.
CLEARED_EVERY = 16
_laid_out = count(1)

WARM_PAGE = '<!doctype html><html lang="en"><title>Warm</title><p>Flour</p></html>'
WARM_STYLES = ("at-home", "handout", "station-card")


class Pool:
    """Lays out papers in `workers` processes; none of them lays out in this process."""

    def __init__(self, workers: int) -> None:
        self._workers = workers
        self._executor = self._started()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _started(self) -> ProcessPoolExecutor | None:
        if not self._workers:
            return None
        context = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(self._workers, context, initializer=_warm_up)

    def warm(self) -> None:
        """Start the processes now instead of with the first paper."""
        if self._executor:
            waits = [self._executor.submit(_ready) for _ in range(self._workers)]
            for wait in waits:
                wait.result()

    def lay_out(self, markup: Markup) -> Future[bytes]:
        """A paper's PDF, to come. It may hold AddressRefused or TooLong."""
        if self._executor:
            return self._executor.submit(_lay_out, markup)
        done: Future[bytes] = Future()
        done.set_result(_pdf(markup))
        return done

    def start_again(self) -> None:
        """After a process has died, which ends all of them."""
        self.close()
        self._executor = self._started()

    def close(self) -> None:
        """Stop; what was asked for and not begun is dropped."""
        if self._executor:
            self._executor.shutdown(wait=False, cancel_futures=True)


def _pdf(markup: Markup) -> bytes:
    from handouts.press.render import print_html

    return print_html([markup.text], markup.style, markup.page_size)


def _lay_out(markup: Markup) -> bytes:
    signal.signal(signal.SIGALRM, _give_up)
    # Again every second: what raises within a library may be caught there and thrown away.
    signal.setitimer(signal.ITIMER_REAL, LONGEST_S, 1)
    try:
        return _pdf(markup)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        if next(_laid_out) % CLEARED_EVERY == 0:
            gc.collect()


def _give_up(number: int, frame: FrameType | None) -> None:
    raise TooLong


def _warm_up() -> None:
    """Import what is slow, read the style sheets and fonts, and leave when the parent does.

    What is loaded by then stays, and is not looked through for garbage again.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        Thread(target=_leave_with, args=(parent.sentinel,), daemon=True).start()
    import django

    django.setup()
    from handouts.press.render import PageSize, print_html

    for style in WARM_STYLES:
        print_html([WARM_PAGE], style, PageSize.A4)
    gc.collect()
    gc.freeze()
    gc.disable()


def _leave_with(sentinel: int) -> None:
    multiprocessing.connection.wait([sentinel])
    os._exit(0)


def _ready() -> int:
    return os.getpid()
