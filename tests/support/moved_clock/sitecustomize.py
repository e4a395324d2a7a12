"""Python runs this by itself in a server that is to be some days ahead, wherever it asks for the time of the farm."""

import os
import time

AHEAD = os.environ["DAYS_AHEAD_IN"]
DAY_NS = 24 * 3600 * 10**9
machine = time.time_ns


def moved() -> int:
    with open(AHEAD) as file:
        return machine() + int(file.read() or 0) * DAY_NS


time.time_ns = moved
