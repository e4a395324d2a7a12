"""What a page runs to measure itself: when its rows were painted, and how long a thumb waits."""

from __future__ import annotations

import json

# From the browser's start of the navigation; `names`: what is said once so many rows have been painted.
OPENED = """(([first, all], restMs) => {
  const at = {};
  const say = () => { document.title = `opened ${JSON.stringify(at)}`; };
  const note = (name) => requestAnimationFrame(() => { const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => { at[name] ??= performance.now(); if (at.all) say(); }; port2.postMessage(0); });
  const look = () => {
    const rows = document.body ? document.querySelectorAll("button.ate").length : -1;
    if (rows >= first && !asked.first) { asked.first = true; note("first"); }
    if (rows >= all) { watch.disconnect(); note("all"); }
  };
  const asked = {};
  const watch = new MutationObserver(look);
  watch.observe(document, { childList: true, subtree: true });
})"""
# At the first meal of the day, one tap after another on the first that matches; each is asked of the driver by its
# place on the screen, timed from when the browser got it to the painted frame that follows and to the one after it, and
# taken back.
TAPPED = """((what, most, waitMs, settleMs) => {
  const found = [];
  const frames = (n) => new Promise((done) => requestAnimationFrame(() => (n > 1 ? frames(n - 1).then(done) : done())));
  const after = (ms) => new Promise((done) => setTimeout(done, ms));
  const painted = () => new Promise((done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => done(performance.now());
    port2.postMessage(0);
  }));
  addEventListener("click", async ({ timeStamp, isTrusted }) => {
    if (!isTrusted) return;
    const her = await painted();
    const lists = await painted();
    found.push([her - timeStamp, lists - timeStamp]);
  }, true);
  const run = async () => {
    await after(waitMs);
    document.querySelector(".slots button")?.click();
    await after(settleMs);
    for (let i = 0; i < most; i++) {
      const at = document.querySelector(what);
      if (!at) break;
      at.scrollIntoView({ block: "center" });
      await frames(2);
      await after(300);
      const { x, y, width, height } = at.getBoundingClientRect();
      const before = found.length;
      document.title = `tap ${i} ${JSON.stringify([x + width / 2, y + height / 2])}`;
      // a row that moved away from under the thumb is no tap
      for (let waited = 0; found.length === before && waited < 5000; waited += 20) await after(20);
      await after(settleMs);
      document.querySelector(".toast button")?.click();
      await after(settleMs);
    }
    document.title = `tapped ${JSON.stringify(found)}`;
  };
  addEventListener("load", run);
})"""


def opened(first: int, rows: int) -> str:
    return f"{OPENED}({json.dumps([first, rows])});"


def tapped(what: str, most: int, wait_s: float, settle_s: float) -> str:
    return f"{TAPPED}({json.dumps(what)}, {most}, {wait_s * 1000}, {settle_s * 1000});"
