"""A Chromium slowed down as a cheap phone is, and a thumb on it whose touches cost the page nothing but themselves."""

from __future__ import annotations

import os
import time
from typing import Any

from playwright.sync_api import BrowserContext, CDPSession, Page

from tests.support import chromium

# A phone is six times slower than this machine; whoever only wants to see the bench run need not wait for it.
SLOWER = int(os.environ.get("MANGERLINE_BENCH_SLOWER", "6"))
PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740},
    "device_scale_factor": 2,
    "is_mobile": True,
    "has_touch": True,
    "locale": "en-GB",
    "timezone_id": "UTC",
}
WAIT_S = 120
LOOK_S = 0.02
# From the tap itself (when the browser got it) to the frame that shows the answer, or the page it leads to.
TIMER = """() => {
  window.taps = [];
  window.shown = () => true;
  addEventListener("click", (event) => {
    const look = () => {
      if (!window.shown()) return requestAnimationFrame(look);
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => window.taps.push(performance.now() - event.timeStamp);
      port2.postMessage(0);
    };
    requestAnimationFrame(look);
  }, true);
}"""
MIDDLE = "(({ x, y, width, height }) => [x + width / 2, y + height / 2])"
TWO_FRAMES = "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))"


def browser(play: Any, profile: str) -> BrowserContext:
    program = {"executable_path": str(chromium.find()), "args": chromium.ARGS}
    context: BrowserContext = play.chromium.launch_persistent_context(profile, **program, **PHONE)
    return context


def page_on(context: BrowserContext, slower: int = SLOWER) -> tuple[Page, CDPSession]:
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    return page, line


def asked(line: CDPSession, expression: str) -> Any:
    """The value of an expression in the page; nothing of the driver's own is loaded into it."""
    asking = {"expression": expression, "returnByValue": True, "awaitPromise": True}
    return line.send("Runtime.evaluate", asking)["result"].get("value")


def until(line: CDPSession, expression: str, every_s: float = LOOK_S) -> Any:
    ends = time.monotonic() + WAIT_S
    while not (found := asked(line, expression)):
        if time.monotonic() > ends:
            raise TimeoutError(expression)
        time.sleep(every_s)
    return found


def touch(line: CDPSession, what: str, place: int = 0) -> float:
    """One tap by touch on what is brought into sight first; milliseconds until its frame was painted."""
    here = f"[...document.querySelectorAll({what!r})][{place}]"
    until(line, f"{here} && ({here}.scrollIntoView({{ block: 'center' }}), true)")
    asked(line, TWO_FRAMES)
    box = asked(line, f"{MIDDLE}({here}.getBoundingClientRect())")
    before = asked(line, "window.taps.length")
    line.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": box[0], "y": box[1]}]})
    line.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    until(line, f"window.taps.length > {before}")
    return float(asked(line, "window.taps.at(-1)"))
