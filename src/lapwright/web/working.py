"""Jobs worked out, kept for as long as somebody looks at them: several views of one revision plan once."""

from __future__ import annotations

import threading
from collections import OrderedDict

from lapwright.errors import JobProblems
from lapwright.verbs.jobs import Job, Kept, worked_out

MOST = 16


class Working:
    """The last jobs that were worked out, by id and revision. Safe from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._done: OrderedDict[tuple[str, int], Job | JobProblems] = OrderedDict()

    def job(self, kept: Kept) -> Job:
        """A revision's job. A revision never changes, so what was worked out stays true.

        Raises:
            JobProblems: its text cannot be planned; all its problems.
        """
        key = (kept.id, kept.revision)
        with self._lock:
            found = self._done.get(key)
            if found is None:
                found = self._work(kept)
                self._done[key] = found
                if len(self._done) > MOST:
                    self._done.popitem(last=False)
            self._done.move_to_end(key)
        if isinstance(found, JobProblems):
            raise found.with_traceback(None)
        return found

    def _work(self, kept: Kept) -> Job | JobProblems:
        try:
            return worked_out(kept.text, kept.name)
        except JobProblems as problems:
            return problems
