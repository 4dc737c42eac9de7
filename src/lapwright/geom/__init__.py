"""Points, planes, polygons and frames. Knows no roofing word."""

SAME = 1e-6
"""Two lengths closer than this are the same length. [in]"""
