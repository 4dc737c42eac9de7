"""Cutting to length: pieces from bars, gutters, trims and coil. Kerf 0.

Outside lengths are inches; inside the searches whole steps that divide every piece [steps].
"""
