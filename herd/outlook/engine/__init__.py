"""The client's own evaluator in an embedded V8: one engine a process, started at the first question.

`frontend/src/engine.ts` is what runs in it; `frontend/client_build.py` bundles that to `evaluator.js` beside this file.
"""

from __future__ import annotations

import atexit
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from py_mini_racer import MiniRacer

BUNDLE = Path(__file__).with_name("evaluator.js")
LONGEST_S = 60.0
MOST_BYTES = 768 * 2**20
# room for young objects, MB: a farm is read and let go, and a server has better uses for 50 MB
SMALL = ("--max-semi-space-size=2",)


class EngineError(RuntimeError):
    """The evaluator could not answer: the message says what it stumbled over, or what to do."""


class Engine:
    """V8 with the bundle in it. Not made anew by fork: whoever forks closes it first and starts another when asked."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.v8: MiniRacer | None = None
        self.function: Callable[..., Any] | None = None

    def ask(self, key: str, question: str, farm: str) -> str:
        with self.lock:
            # a function of V8 without properties is false
            function = self.start() if self.function is None else self.function
            try:
                return str(function(key, question, farm, timeout_sec=LONGEST_S))
            except Exception as error:
                # Out of time or memory: nobody knows what state it is in. The next question starts a new one.
                self.close()
                raise EngineError(f"The evaluator stopped ({type(error).__name__}): {error}") from error

    def start(self) -> Callable[..., Any]:
        if not BUNDLE.exists():
            raise EngineError("The evaluator is not built. In a source checkout run: python manage.py build_client")
        # It ties itself to the event loop of the thread that makes it, so that has to be one that has none.
        with ThreadPoolExecutor(1) as fresh_thread:
            self.v8, self.function = fresh_thread.submit(_made, BUNDLE.read_text()).result()
        return self.function

    def close(self) -> None:
        v8, self.v8, self.function = self.v8, None, None
        if v8 is not None:
            v8.close()

    def before_fork(self) -> None:
        self.lock.acquire()
        self.close()


def _made(script: str) -> tuple[MiniRacer, Callable[..., Any]]:
    from py_mini_racer import DEFAULT_V8_FLAGS, MiniRacer, init_mini_racer

    init_mini_racer(flags=(*DEFAULT_V8_FLAGS, *SMALL), ignore_duplicate_init=True)
    v8 = MiniRacer()
    v8.set_hard_memory_limit(MOST_BYTES)
    v8.eval(script)
    function: Any = v8.eval("evaluator.ask")
    return v8, function


_engine = Engine()
ask = _engine.ask
# left open, V8 keeps a process that was forked from ending
atexit.register(_engine.close)
if hasattr(os, "register_at_fork"):
    release = _engine.lock.release
    os.register_at_fork(before=_engine.before_fork, after_in_parent=release, after_in_child=release)
