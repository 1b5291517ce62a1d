"""brightrun's core: from orders, stock and a shop to an audited week.

Data flows left to right and never back::

    orders, stock, shop -> blanks -> lots -> cut lists -> operations -> schedule -> Plan -> audit

Each stage is `Problem -> solve(problem, stop, seed) -> Result`, with frozen input and a
result that carries its own bound and status. Nothing here reads files, prints, or looks at
a clock other than the one it is given; everything that touches the world is in planner_io.
Only `cutlist` and `schedule` import solvers; `audit` imports neither of them nor `lots`.
"""
