"""The addresses of the pages, and what a tap does."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, cast
from urllib.parse import quote

from fastapi import Depends, FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from jinja2 import DictLoader, Environment, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware

from planner.errors import InputError
from planner.hours import duration
from planner_io.store import Store
from planner_io.taps import Tap, TapKind, stands
from planner_io.views.index import Index
from planner_io.views.losses import Losses
from planner_io.views.ruler import plural, some
from planner_io.web import exports
from planner_io.web.board import Board
from planner_io.web.files import FONTS, HERE, files_of, templates
from planner_io.web.form import fields, read_ended, read_form
from planner_io.web.fractions import fractions, mixed
from planner_io.web.guard import Guard
from planner_io.web.jobs import Job
from planner_io.web.losable import losses

LONGEST_TOKEN = 64
LEAST_PACKED = 2_000
"""Bytes from which an answer is packed: the list of a large week repeats itself some thirty times,
and every tablet asks for its own once a minute."""


class _Refused(HTTPException):
    """A tap that does not fit how far a step is."""

    def __init__(self, job: Job, why: str) -> None:
        super().__init__(409, why)
        self.job = job


async def _form(request: Request) -> dict[str, str]:
    form = await request.form()
    return {name: value for name, value in form.items() if isinstance(value, str)}


Form = Annotated[dict[str, str], Depends(_form)]


def create_app(
    index: Index, store: Store, names: frozenset[str], clock: Callable[[], datetime]
) -> FastAPI:
    """The server of a plan; `names` is what it may be called, `clock` tells the time."""
    app = FastAPI(
        docs_url=None, redoc_url=None, openapi_url=None, default_response_class=HTMLResponse
    )
    pages = _Pages(Board(index), store, clock, _templates())
    app.add_middleware(GZipMiddleware, minimum_size=LEAST_PACKED)
    app.middleware("http")(Guard(names))
    app.add_exception_handler(HTTPException, pages.problem)
    app.add_exception_handler(InputError, pages.unusable)
    app.add_exception_handler(Exception, pages.failed)
    app.add_api_route("/", pages.stations)
    app.add_api_route("/week", pages.week)
    app.add_api_route("/station/{name:path}", pages.station)
    app.add_api_route("/card/{station:path}/{number:int}", pages.card)
    app.add_api_route("/cut/{operation:path}", pages.cut)
    app.add_api_route("/step/{operation:path}", pages.step)
    app.add_api_route("/done/{operation:path}", pages.form)
    app.add_api_route("/done/{operation:path}", pages.done, methods=["POST"])
    app.add_api_route("/tap/{kind}/{operation:path}", pages.tap, methods=["POST"])
    app.add_api_route("/contact", _contact)
    app.add_api_route("/log.csv", pages.log)
    app.add_api_route("/progress.csv", pages.progress)
    app.add_api_route("/fonts/{name}", files_of(FONTS))
    app.add_api_route("/static/{name}", files_of(HERE / "static"))
    return app


def _contact() -> Response:
    """What an open page asks to see whether this server is there."""
    return Response(status_code=204)


def _templates() -> Environment:
    found = Environment(loader=DictLoader(templates()), autoescape=True, undefined=StrictUndefined)
    found.trim_blocks = found.lstrip_blocks = True
    cast("dict[str, object]", found.filters).update(
        fractions=fractions,
        mixed=mixed,
        duration=duration,
        some=some,
        part=_part,
        sentence=_sentence,
        signed=_signed,
        plural=plural,
    )
    return found


def _part(name: str) -> str:
    """A name as one part of an address."""
    return quote(name, safe="")


def _signed(minutes: int) -> str:
    """A difference with its sign."""
    return f"{minutes:+d}".replace("-", "−") if minutes else "0"


def _sentence(words: str) -> str:
    """Words with a capital in front; names further on stay as they are."""
    return words[:1].upper() + words[1:]


@dataclass(frozen=True)
class _Pages:
    board: Board
    store: Store
    clock: Callable[[], datetime]
    templates: Environment

    def stations(self) -> str:
        now = stands(self.store.taps())
        at = self._now()
        lists = [self.board.station_list(name, now, at) for name in self.board.stations]
        return self._page("stations.html", lists=lists)

    def week(self) -> str:
        return self._page("week.html", found=self.board.whole)

    def station(self, name: str) -> str:
        now = stands(self.store.taps())
        found = self.board.station_list(name, now, self._now())
        if found is None:
            raise HTTPException(404, f"This plan has nothing to do at a station “{name}”.")
        coming = {job.step.operation: self.board.coming(job, now) for job in found.first}
        later = [job.step for day in found.later for job in day.jobs]
        takes = self.board.takes(later, now)
        return self._page("station.html", list=found, coming=coming, takes=takes)

    def card(self, station: str, number: int) -> str:
        found = self.board.cards.get((station, number))
        if found is None:
            raise HTTPException(404, f"{station} has no card {number} in this plan.")
        now = stands(self.store.taps())
        job = self.board.next_of(found, now)
        coming = self.board.coming(job, now) if job else None
        takes = self.board.takes(found.steps, now)
        return self._page("card.html", card=found, job=job, coming=coming, takes=takes)

    def cut(self, operation: str) -> str:
        now = stands(self.store.taps())
        job = self._job(operation)
        found = self.board.cut(job)
        if found is None:
            raise HTTPException(404, f"Step “{operation}” has no cut list.")
        return self._page("cut.html", job=job, cut=found, coming=self.board.coming(job, now))

    def step(self, operation: str) -> str:
        now = stands(self.store.taps())
        job = self._job(operation)
        return self._page("step.html", job=job, coming=self.board.coming(job, now))

    def form(self, operation: str) -> str:
        job, ended = self._job(operation), self._now()
        refusal = job.stands.refusal(Tap("", operation, TapKind.DONE, ended))
        if refusal:
            raise _Refused(job, refusal)
        return self._form_page(job, ended, {}, ())

    def _form_page(
        self, job: Job, ended: datetime, entered: dict[str, str], problems: tuple[str, ...]
    ) -> str:
        return self._page(
            "done.html",
            job=job,
            ended=ended,
            fields=fields(self._losses(), job, ended),
            entered=entered,
            problems=problems,
        )

    def done(self, operation: str, form: Form) -> Response:
        job = self._job(operation)
        if job.stands.done_at is None:
            try:
                ended = read_ended(job, form.get("ended", ""), self._now())
            except InputError as problem:
                raise _Refused(job, str(problem)) from problem
        else:
            ended = job.stands.done_at
        try:
            report = read_form(self._losses(), job, form)
        except InputError as problem:
            said = tuple(finding.message for finding in problem.findings)
            return HTMLResponse(self._form_page(job, ended, form, said), 422)
        self._record(job, Tap(_token(form), operation, TapKind.DONE, ended, report))
        return self._back_to(job)

    def tap(self, kind: str, operation: str, form: Form) -> Response:
        job = self._job(operation)
        kinds = {each.value: each for each in TapKind if each is not TapKind.DONE}
        if kind not in kinds:
            raise HTTPException(404, f"There is no tap “{kind}”.")
        people = self._crew(job, form.get("crew", "")) if kinds[kind] is TapKind.WHO else ()
        self._record(job, Tap(_token(form), operation, kinds[kind], self._now(), people=people))
        return self._back_to(job, form.get("page", ""))

    def _crew(self, job: Job, number: str) -> tuple[str, ...]:
        """Those whom a page offered under a number."""
        crews = {str(each): crew for each, crew in enumerate(self.board.crews(job))}
        if number not in crews:
            raise HTTPException(400, "This page is out of date: go back to the list.")
        return crews[number]

    def log(self) -> Response:
        text = exports.log_csv(self.board.index, stands(self.store.taps()))
        return _csv("log.csv", text)

    def progress(self) -> Response:
        now = stands(self.store.taps())
        return _csv("progress.csv", exports.progress_csv(self.board.index, now, self._now()))

    async def problem(self, request: Request, found: Exception) -> Response:
        status = found.status_code if isinstance(found, HTTPException) else 500
        words = found.detail if isinstance(found, HTTPException) else str(found)
        if status == 404 and words == "Not Found":
            words = "There is no such page; go back to the stations."
        if status == 405:
            words = (
                "This address takes taps alone, so nothing was changed; go back to the stations."
            )
        job = found.job if isinstance(found, _Refused) else None
        return self._problem(words, status, job)

    async def unusable(self, request: Request, found: Exception) -> Response:
        return self._problem(str(found), 503)

    async def failed(self, request: Request, found: Exception) -> Response:
        words = (
            f"This server failed ({type(found).__name__}); what was tapped before is kept. If "
            "brightrun was installed anew since it started, end it with Ctrl-C and start it again."
        )
        return self._problem(words, 500)

    def _problem(self, words: str, status: int, job: Job | None = None) -> Response:
        return HTMLResponse(self._page("problem.html", words=words, job=job), status)

    def _record(self, job: Job, tap: Tap) -> None:
        try:
            self.store.record(tap)
        except InputError as problem:
            raise _Refused(self._job(job.step.operation), str(problem)) from problem

    def _back_to(self, job: Job, page: str = "") -> Response:
        """The page that a tap was made on: its card or its cut list, or else the list."""
        station = _part(job.slot.station)
        address = f"/station/{station}"
        if page == "card" and job.step.card:
            address = f"/card/{station}/{job.step.card}"
        elif page == "cut" and self.board.cut(job):
            address = f"/cut/{_part(job.slot.operation)}"
        return RedirectResponse(address, 303)

    def _job(self, operation: str) -> Job:
        job = self.board.job(operation, stands(self.store.taps()))
        if job is None:
            raise HTTPException(404, f"There is no step “{operation}” in this plan.")
        return job

    def _losses(self) -> Losses:
        return losses(self.board.index, stands(self.store.taps()))

    def _now(self) -> datetime:
        return self.clock().replace(microsecond=0)

    def _page(self, name: str, **values: object) -> str:
        template = self.templates.get_template(name)
        return template.render(board=self.board, token=_new_token, **values)


def _new_token() -> str:
    return secrets.token_urlsafe(16)


def _token(form: dict[str, str]) -> str:
    token = form.get("token", "")
    if not 0 < len(token) <= LONGEST_TOKEN:
        raise HTTPException(400, "This page is out of date: go back to the list.")
    return token


def _csv(name: str, text: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text, media_type="text/csv; charset=utf-8", headers=headers)
