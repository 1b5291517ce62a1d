"""The Progress sheet."""

from __future__ import annotations

from planner_io.workbook.columns import Column, Kind, SheetSpec

STATE_WORDS = ("done", "started", "paused", "set-up", "open", "lock", "pin", "scrapped")
PROGRESS = SheetSpec(
    "Progress",
    "What was done, what is running, and what must stay or go where you want it.",
    (
        Column(
            "operation",
            "Operation",
            Kind.TEXT,
            "Operation as on the papers, such as L03.P1, or a lot, such as L03.",
            "Op, Operation key, Job step, Work",
            example="L03.P1",
        ),
        Column(
            "lot",
            "Lot",
            Kind.TEXT,
            "The lot, where the operation is given by lot and step.",
            "Lot number, Lot key",
        ),
        Column(
            "step",
            "Step",
            Kind.TEXT,
            "Pass 1, saw, notch, bend or touch-up; blank for all of the lot.",
            "Pass, Operation step",
        ),
        Column(
            "state",
            "State",
            Kind.CHOICE,
            "done, started, paused (stands still; other work may have been put in), set-up (is "
            "being changed over to), open (not begun after all), lock (stays where it was issued), "
            "pin, or scrapped (what is lost is made once more).",
            "Status, Progress, What",
            required=True,
            choices=STATE_WORDS,
            example="done",
        ),
        Column(
            "start",
            "Start",
            Kind.TEXT,
            "When it began: 09:10, Tue 9:10 or a date and time. For a pin: next, Tuesday, or "
            "Thursday 13:00.",
            "Begin, Began, Started at, From, Start time, When",
            example="07:40",
        ),
        Column(
            "end",
            "End",
            Kind.TEXT,
            "When it ended, or is expected to. Paused: since when it stands still.",
            "Ended, Finish, Finished at, Until, To, End time",
            example="09:15",
        ),
        Column(
            "minutes",
            "Minutes",
            Kind.MINUTES,
            "Done: minutes of work that it took, where Start or End is blank. Started or paused: "
            "those that it has worked so far, where it stood still in between.",
            "Min, Took, Actual, Actual minutes, Run minutes, Minutes taken, Duration",
        ),
        Column(
            "pieces",
            "Pieces",
            Kind.WHOLE,
            "Started or paused: sticks or pieces done so far. Scrapped: pieces that are lost at "
            "this step in all; 0 takes that back.",
            "Pcs, Done so far, Quantity, Qty, Count",
        ),
        Column(
            "line",
            "Line",
            Kind.TEXT,
            "Scrapped: the order line, such as 1187/2, where the lot has several.",
            "Order line, Of line, Part of",
        ),
        Column(
            "stick",
            "Stick",
            Kind.TEXT,
            "Scrapped: instead of Pieces, the stick that is lost before the saw, by its tag on the "
            "cut list, such as L03-02.",
            "Stick tag, Of stick, Bar",
        ),
        Column(
            "station",
            "Station",
            Kind.TEXT,
            "Where, if not where it was issued.",
            "Machine, At",
        ),
        Column(
            "who",
            "Who",
            Kind.TEXT,
            "Who does it, if not those who were to: one or two names of the sheet People.",
            "People, Person, By, Operator, Done by, Run by",
        ),
        Column(
            "note",
            "Note",
            Kind.TEXT,
            "Anything worth keeping.",
            "Notes, Remark, Comment",
            example="EXAMPLE",
        ),
    ),
    "Done, Status, Actuals, Shop floor, Floor",
)
