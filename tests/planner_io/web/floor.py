"""A tablet in a test: a plan served to a client that taps as a browser does."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from httpx2 import Response
from starlette.testclient import TestClient

from planner.records import Plan
from planner_io.store import Store
from planner_io.views.index import Index
from planner_io.web.app import create_app
from planner_io.web.begun import begun

ADDRESS = "http://127.0.0.1"


@dataclass
class Clock:
    """A clock that a test sets."""

    now: datetime = datetime(2026, 11, 30, 7, 0)

    def __call__(self) -> datetime:
        return self.now

    def on(self, minutes: int) -> None:
        """Let time pass."""
        self.now += timedelta(minutes=minutes)


@dataclass
class Tablet:
    """A browser at the station."""

    plan: Plan
    store: Path
    clock: Clock = field(default_factory=Clock)

    def __post_init__(self) -> None:
        store = Store(self.store, "the plan", begun(self.plan))
        store.open()
        app = create_app(Index(self.plan), store, frozenset({"shop.test"}), self.clock)
        self.client = TestClient(app, base_url=ADDRESS, follow_redirects=False)

    def page(self, address: str) -> str:
        """A page that must be there."""
        answer = self.client.get(address)
        assert answer.status_code == 200, answer.text
        return answer.text

    def post(self, address: str, form: dict[str, str], origin: str = ADDRESS) -> Response:
        """What a form of a page at `origin` sends."""
        return self.client.post(address, data=form, headers={"Origin": origin})

    def tap(self, kind: str, operation: str, token: str = "") -> Response:
        """A button; its token is new unless given."""
        form = {"token": token or f"{kind} {operation} {self.clock.now}"}
        return self.post(f"/tap/{kind}/{operation}", form)

    def form(self, operation: str) -> dict[str, str]:
        """The fields of the form at Done, as they are offered."""
        page = self.page(f"/done/{operation}")
        found = dict(re.findall(r'<input[^>]*? name="([^"]+)" value="([^"]*)"', page))
        for name, options in re.findall(r'<select name="([^"]+)">(.*?)</select>', page, re.S):
            found[name] = re.findall(r"<option selected>([^<]*)", options)[0]
        return {name: html.unescape(value) for name, value in found.items()}

    def done(self, operation: str, **changes: str) -> Response:
        """Done, with the form as offered but for `changes`."""
        return self.post(f"/done/{operation}", self.form(operation) | changes)
