"""Several programs as one: python -m herd.together PROGRAM ... -- PROGRAM ...

The first is what it is all for: when that ends, so do the others and this. Another one that ends is started again.
Nothing of Django here, so that whoever watches costs next to nothing.
"""

from __future__ import annotations

import ctypes
import os
import signal
import subprocess
import sys
import time
from types import FrameType

PR_SET_PDEATHSIG = 1
AGAIN_S, LONGEST_AGAIN_S = 1.0, 60.0
GRACE_S = 35.0


def end_with_parent() -> None:
    """In the child: a parent that is killed without a word takes it along. Elsewhere than on Linux it stays."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


def start(command: list[str]) -> subprocess.Popen[bytes]:
    return subprocess.Popen(command, preexec_fn=end_with_parent)


class Together:
    def __init__(self, commands: list[list[str]]) -> None:
        self.commands = commands
        self.running: list[subprocess.Popen[bytes]] = []
        self.started = [0.0] * len(commands)
        self.waits = [AGAIN_S] * len(commands)
        self.asked = False

    def stop(self, number: int = 0, frame: FrameType | None = None) -> None:
        self.asked = True

    def run(self) -> int:
        signal.signal(signal.SIGTERM, self.stop)
        signal.signal(signal.SIGINT, self.stop)
        self.running = [start(command) for command in self.commands]
        self.started = [time.monotonic()] * len(self.commands)
        while not self.asked and self.running[0].poll() is None:
            for at in range(1, len(self.running)):
                self.again(at)
            time.sleep(0.1)
        self.end()
        return 0 if self.asked else self.running[0].returncode or 1

    def again(self, at: int) -> None:
        """At once the first time; one that keeps ending is given longer and longer."""
        if self.running[at].poll() is None or time.monotonic() < self.started[at] + self.waits[at]:
            return
        lived = time.monotonic() - self.started[at]
        self.waits[at] = AGAIN_S if lived > LONGEST_AGAIN_S else min(LONGEST_AGAIN_S, 2 * self.waits[at])
        self.running[at], self.started[at] = start(self.commands[at]), time.monotonic()

    def end(self) -> None:
        for process in self.running:
            if process.poll() is None:
                process.terminate()
        until = time.monotonic() + GRACE_S
        for process in self.running:
            try:
                process.wait(max(0.0, until - time.monotonic()))
            except subprocess.TimeoutExpired:
                process.kill()


def commands(words: list[str]) -> list[list[str]]:
    found: list[list[str]] = [[]]
    for word in words:
        if word == "--":
            found.append([])
        else:
            found[-1].append(word)
    return found


if __name__ == "__main__":
    os.environ.setdefault("PYTHONUNBUFFERED", "1")
    sys.exit(Together(commands(sys.argv[1:])).run())
