"""Lapwright: any opening in a standing-seam roof, watertight for good."""

__version__ = "0.1.0"
