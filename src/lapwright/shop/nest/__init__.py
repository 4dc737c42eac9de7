"""Nesting: rectangles on sheets, rolls and offcuts. Kerf 0.

Left of `grid` and right of it lengths are inches; between, whole steps of a grid on which every part lies [steps].
"""
