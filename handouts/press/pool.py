"""Processes that lay out papers, kept warm: layout is CPU work, so one for each core.

They are spawned, not forked, so that they have none of the caller's database connections, and they
end with the process that started them.
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

# Far longer than any paper of ours takes; a name of 10,000 letters is cut before.
LONGEST_S = 60
# A paper leaves a few megabytes of garbage. Papers for 24 took one process 8.5 s with Python's own
# collection, 6.8 s with loaded modules exempt, 6.1 s collecting once in a while.
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
        """A future of a paper's PDF. It may raise AddressRefused or TooLong."""
        if self._executor:
            return self._executor.submit(_lay_out, markup)
        done: Future[bytes] = Future()
        done.set_result(_pdf(markup))
        return done

    def start_again(self) -> None:
        """Restart after a process has died, which ends all of them."""
        self.close()
        self._executor = self._started()

    def close(self) -> None:
        """Stop; papers not yet begun are dropped."""
        if self._executor:
            self._executor.shutdown(wait=False, cancel_futures=True)


def _pdf(markup: Markup) -> bytes:
    from handouts.press.render import print_html

    return print_html([markup.text], markup.style, markup.page_size)


def _lay_out(markup: Markup) -> bytes:
    signal.signal(signal.SIGALRM, _give_up)
    # Repeat every second, since an exception inside a library may be caught there and lost.
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

    What is loaded by then stays, and is exempt from garbage collection.
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
