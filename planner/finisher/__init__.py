"""The finisher: what to set it to, how long it takes, and what its log teaches.

A through-feed belt finisher holds a round tube between a belt on a contact wheel and a
slow, tilted brake wheel, on the edge of a rail below the line of the wheel centres.

`geometry` solves the circles, `suggest` chooses the settings, `feed` links tilt and feed,
`times` gives minutes, `passes` the steps of a recipe, `belts` their wear, `calibration`
learns from logged runs, `record` judges the finish that was measured. Lengths cross every
border as whole nanometres (`*_nm`), angles as thousandths of a degree (`*_mdeg`), feeds as
millimetres a minute (`*_mm_min`); inside the geometry they are floats in millimetres.

Imports numpy, scipy and the core's own units, abrasives, shop and errors; no solver,
nothing of the edge.
"""
