"""Who truly ate what on a day: the stand first, then the feeder, where rank counts for more the less there is."""

from __future__ import annotations

from .truth import Goat


def feeder(does: list[Goat], room_kg: dict[str, float], hay_kg: float) -> dict[str, float]:
    """Dry hay eaten by each doe. With plenty each eats to appetite; else by appetite x rank, none beyond her room."""
    space = sum(room_kg.values())
    if hay_kg >= space or space <= 0:
        return dict(room_kg)
    push = 1 + 1.5 * max(0.0, 0.9 - hay_kg / space)
    weight = {doe.name: room_kg[doe.name] * doe.rank**push for doe in does}
    eaten, left, open_to = dict.fromkeys(room_kg, 0.0), hay_kg, set(room_kg)
    while left > 1e-9 and open_to:
        whole = sum(weight[name] for name in open_to) or 1.0
        parts = {name: min(left * weight[name] / whole, room_kg[name] - eaten[name]) for name in open_to}
        for name, part in parts.items():
            eaten[name] += part
        left -= sum(parts.values())
        full = {name for name in open_to if eaten[name] >= room_kg[name] - 1e-9}
        if not full:
            break
        open_to -= full
    return eaten
