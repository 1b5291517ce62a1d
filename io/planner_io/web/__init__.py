"""The pick lists of a plan for a tablet at the station, and what the floor taps there.

Plain pages of a local server: nothing from other hosts, and one script that keeps an open page
open while the server cannot be reached; without it they work all the same. What a plan says
comes from `planner_io.views` and its pictures from `planner_io.drawing`, as on paper; what was
tapped is in `planner_io.taps`, and kept by `planner_io.store`.

    board.py    a plan and its taps as the pages show them
    begun.py    what had begun when the week was planned again
    week.py     the whole week for whoever plans it
    form.py     the form of a run that is done: what it offers, what was entered
    hours.py    minutes between taps within the hours of the shop
    exports.py  log.csv and progress.csv
    fractions.py  fractions as the pages set them
    files.py    the files that pages are made of
    guard.py    who may ask, and what a browser may do with the pages
    app.py      addresses
    static/     the pages' look, and contact.js
"""
