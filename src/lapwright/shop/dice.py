"""Dice that fall the same way every time: the searches of the shop are repeatable, byte for byte."""

from __future__ import annotations

import math

_MASK = (1 << 64) - 1
SIDES = 1 << 31
"""A throw is a whole number from 0 to SIDES - 1."""


class Dice:
    """A linear congruential generator. Source: Knuth's MMIX constants, from memory."""

    def __init__(self, seed: int) -> None:
        self._state = (seed * 0x9E3779B97F4A7C15 + 0xD1B54A32D192ED03) & _MASK
        self.throw()

    def throw(self) -> int:
        """The next number, 0 to SIDES - 1."""
        self._state = (self._state * 6364136223846793005 + 1442695040888963407) & _MASK
        return self._state >> 33

    def below(self, most: int) -> int:
        """A number from 0 to most - 1."""
        return self.throw() % most

    def share(self) -> float:
        """A number from 0 to below 1. [-]"""
        return self.throw() / SIDES

    def chance_log(self) -> float:
        """The logarithm of a share above 0, for an annealer. [-]"""
        return math.log((self.throw() + 1) / (SIDES + 1))
