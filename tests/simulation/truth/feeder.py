"""Who truly ate what of a shared feeder: rank counts for more the less there is."""

from __future__ import annotations

from collections.abc import Mapping

# How much harder a short feeder is fought over: judgement.
SHOVE, CALM_SHARE = 1.5, 0.9


def divide(rank: Mapping[str, float], room_kg: Mapping[str, float], hay_kg: float) -> dict[str, float]:
    """Dry hay eaten by each doe. With plenty each eats to appetite; else by appetite x rank, none beyond her room."""
    space = sum(room_kg.values())
    if hay_kg >= space or space <= 0:
        return dict(room_kg)
    push = 1 + SHOVE * max(0.0, CALM_SHARE - hay_kg / space)
    weight = {name: room_kg[name] * rank[name] ** push for name in room_kg}
    eaten, left, open_to = dict.fromkeys(room_kg, 0.0), hay_kg, {name for name in room_kg if room_kg[name] > 0}
    while left > 1e-9 and open_to:
        whole = sum(weight[name] for name in open_to)
        for name in sorted(open_to):
            eaten[name] += min(left * weight[name] / whole, room_kg[name] - eaten[name])
        left = hay_kg - sum(eaten.values())
        full = {name for name in open_to if eaten[name] >= room_kg[name] - 1e-9}
        if not full:
            break
        open_to -= full
    return eaten
