"""Packets made when they are asked for: one at a time, none twice, never on the loop that answers."""

from __future__ import annotations

import asyncio
import sys
import threading
import traceback
from collections import OrderedDict
from concurrent.futures import Future, ThreadPoolExecutor

from lapwright.errors import JobProblems, LapwrightError
from lapwright.verbs.jobs import Kept
from lapwright.verbs.take import Paper, Taken, take, usual_paper
from lapwright.web.working import Working

MOST = 6
"""So many packets are kept, a few MB each."""


class NotMade(LapwrightError):
    """A packet could not be made: our bug, or the machine's (its memory, its disk)."""


class Making:
    """The last packets asked for, by job, revision and paper; made or being made."""

    def __init__(self, working: Working) -> None:
        self._working = working
        self._lock = threading.Lock()
        self._asked: OrderedDict[tuple[str, int, Paper], Future[Taken]] = OrderedDict()
        self._maker = ThreadPoolExecutor(1, thread_name_prefix="packet")

    async def packet(self, kept: Kept, paper: Paper | None = None) -> Taken:
        """A revision's packet; who asks while it is being made gets the same one.

        Raises:
            JobProblems: its text cannot be planned; all its problems.
            NotMade: it failed; what happened stands in the server's own window. Asking again tries again.
        """
        job = await asyncio.to_thread(self._working.job, kept)
        key = (kept.id, kept.revision, paper or usual_paper(job))
        with self._lock:
            asked = self._asked.get(key)
            if asked is None:
                asked = self._asked[key] = self._maker.submit(take, job, key[2])
                if len(self._asked) > MOST:
                    self._asked.popitem(last=False)
            self._asked.move_to_end(key)
        try:
            # shielded: who goes away leaves the packet to whoever else waits for it
            return await asyncio.shield(asyncio.wrap_future(asked))
        except JobProblems:
            raise
        except Exception as why:
            with self._lock:
                if self._asked.get(key) is asked:
                    del self._asked[key]
                    traceback.print_exception(why, file=sys.stderr)
            raise NotMade("page_take.failed") from why
