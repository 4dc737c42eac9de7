"""How long a search may go on: counted in steps of work, so that the same input gives the same answer."""

from __future__ import annotations

from collections.abc import Callable


class Budget:
    """Work left; one unit is about a microsecond of an ordinary machine. [units]

    Args:
        units: Work allowed.
        over: Asked now and then; True ends the search early (a clock; the answer may then differ).
        whole: The budget this one is a part of; what is spent here is spent there too.
    """

    def __init__(
        self, units: int, over: Callable[[], bool] | None = None, whole: Budget | None = None
    ) -> None:
        self.left = units
        self.over = over
        self.whole = whole

    def spend(self, units: int) -> bool:
        """Note work done. Returns: is there any left?"""
        self.left -= units
        spent_above = self.whole is not None and not self.whole.spend(units)
        if spent_above or (self.over is not None and self.left > 0 and self.over()):
            self.left = 0
        return self.left > 0

    def part(self, share: float) -> Budget:
        """At most this share of what is left, as a budget of its own. [-]"""
        return Budget(max(int(self.left * share), 0), None, self)
