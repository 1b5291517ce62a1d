"""The finisher: what to set it to, how long it takes, and what its log teaches.

A through-feed belt finisher holds a round tube between a belt on a contact wheel and a
slow, tilted brake wheel, on the edge of a rail below the line of the wheel centres.

`geometry` solves the circles, `suggest` chooses the settings, `set_up` and `card` say them,
`feed` links tilt and feed, `belts` and `wear` count belts, `calibration` learns from logged runs
and `change_times` from logged changeovers, `record` judges the finish that was measured and
`rework` sends a lot back. Lengths cross every border as whole nanometres (`*_nm`), angles as
thousandths of a degree (`*_mdeg`), feeds as millimetres a minute (`*_mm_min`); inside the geometry
they are floats in millimetres.

What it may import is in DEVELOPERS.md, layer builders: records and trade knowledge; no solver.
"""
