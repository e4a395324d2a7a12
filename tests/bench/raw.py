"""A Chromium spoken to over its own pipe, with nothing of a debugger switched on: no Runtime domain, no evaluation. The
page measures itself and says what it found in its title, which the browser tells of by itself."""

from __future__ import annotations

import json
import os
import select
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.support import chromium

WAIT_S = 120.0
# What a browser does for itself when it starts is over.
STARTED_S = 2.0
PHONE = {"width": 360, "height": 740, "deviceScaleFactor": 2, "mobile": True}
TICKS_MS = 1000 / os.sysconf("SC_CLK_TCK")


class Browser:
    def __init__(self, profile: str) -> None:
        inbox, self._out = os.pipe()
        self._in, outbox = os.pipe()
        script = f'exec "$0" "$@" 3<&{inbox} 4>&{outbox}'
        own = ["--headless", "--no-startup-window", "--remote-debugging-pipe", "--lang=en-GB"]
        given = [*own, f"--user-data-dir={profile}", *chromium.ARGS]
        command = ["/bin/sh", "-c", script, str(chromium.find()), *given]
        env = {**os.environ, "TZ": "UTC", "LANG": "en_US.UTF-8"}
        self._process = subprocess.Popen(command, pass_fds=(inbox, outbox), env=env, stderr=subprocess.DEVNULL)
        os.close(inbox)
        os.close(outbox)
        self._rest, self._last = b"", 0
        time.sleep(STARTED_S)

    def send(self, method: str, params: dict[str, Any] | None = None, session: str = "") -> dict[str, Any]:
        self._last += 1
        message = {"id": self._last, "method": method, "params": params or {}}
        if session:
            message["sessionId"] = session
        os.write(self._out, json.dumps(message).encode() + b"\0")
        ends = time.monotonic() + WAIT_S
        while True:
            came = self._next(ends)
            if came.get("id") == self._last:
                if "error" in came:
                    raise RuntimeError(f"{method}: {came['error']}")
                return dict(came["result"])

    def _next(self, ends: float) -> dict[str, Any]:
        while b"\0" not in self._rest:
            if not select.select([self._in], [], [], max(0.0, ends - time.monotonic()))[0]:
                raise TimeoutError("the browser says nothing")
            self._rest += os.read(self._in, 1 << 20)
        text, _, self._rest = self._rest.partition(b"\0")
        return dict(json.loads(text))

    def open(self, url: str, script: str, slower: int) -> Page:
        target = self.send("Target.createTarget", {"url": "about:blank"})["targetId"]
        session = self.send("Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        page = Page(self, target, session)
        page.send("Emulation.setDeviceMetricsOverride", dict(PHONE))
        page.send("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 1})
        page.send("Emulation.setCPUThrottlingRate", {"rate": slower})
        page.send("Page.enable")
        page.send("Page.addScriptToEvaluateOnNewDocument", {"source": script})
        page.send("Page.navigate", {"url": url})
        return page

    def titled(self, target: str, begins: str, every_s: float) -> str:
        """Waits for a title of that page that begins so; the page itself is not asked."""
        ends = time.monotonic() + WAIT_S
        while time.monotonic() < ends:
            pages = self.send("Target.getTargets")["targetInfos"]
            title = next(str(page["title"]) for page in pages if page["targetId"] == target)
            if title.startswith(begins):
                return title.removeprefix(begins)
            time.sleep(every_s)
        raise TimeoutError(f"no title that begins with {begins!r}")

    def cpu_ms(self) -> float:
        """Processor time of every thread of every process of this browser."""
        parents: dict[int, int] = {}
        spent: dict[int, int] = {}
        for stat in Path("/proc").glob("[0-9]*/stat"):
            try:
                fields = stat.read_text().rpartition(")")[2].split()
            except OSError:
                continue
            pid = int(stat.parent.name)
            parents[pid], spent[pid] = int(fields[1]), int(fields[11]) + int(fields[12])
        return TICKS_MS * sum(ticks for pid, ticks in spent.items() if self._is_ours(pid, parents))

    def _is_ours(self, pid: int, parents: dict[int, int]) -> bool:
        while pid > 1:
            if pid == self._process.pid:
                return True
            pid = parents.get(pid, 0)
        return False

    def close(self) -> None:
        self.send("Browser.close")
        self._process.wait(timeout=30)
        os.close(self._in)
        os.close(self._out)


class Page:
    def __init__(self, browser: Browser, target: str, session: str) -> None:
        self.browser, self._target, self._session = browser, target, session

    def send(self, method: str, params: dict[str, Any] | None = None) -> dict[str, Any]:
        return self.browser.send(method, params, self._session)

    def told(self, begins: str, every_s: float = 0.05) -> str:
        return self.browser.titled(self._target, begins, every_s)

    def tap(self, x: float, y: float) -> None:
        self.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
        self.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


@contextmanager
def browser(profile: str) -> Iterator[Browser]:
    made = Browser(profile)
    try:
        yield made
    finally:
        made.close()
