"""The shop's pictures as SVG text: rings, lays, gaps, timelines and cut bars.

Papers and screens share them, so a belt or a tube looks the same everywhere.  Measures are
millimetres on paper; a picture's viewBox is in millimetres too.  May import `planner` and the
standard library alone.
"""
