"""What a phone whose clock runs ahead was given instead of its own stamps, so that its order is kept."""

from __future__ import annotations

from herd.models import Event
from herd.state.order import Event as Fact

from .wire import decode

# So far back in the log it is looked for: what a push costs must not grow with the farm's years.
LOOKED_AT = 2000


class Restamped:
    """
    Two who share a phone send one after the other, each what is hers: the first to send may have written last.

    `farm_id`, and `seq`: the last entry of its log.
    """

    def __init__(self, farm_id: str, seq: int) -> None:
        self.farm_id, self.seq = farm_id, seq
        self.given: dict[str, list[tuple[str, str]]] = {}

    def before_later(self, event: Fact) -> str:
        """A stamp before the least given to what this phone stamped after `event`, past what it stamped before; "" when
        nothing after it is here. Where no room is left it is that least one, and the id decides."""
        given, own = self._of(event["device"]), event["hlc"]
        least = min((got for other, got in given if other > own), default="")
        if not least:
            return ""
        most = max((got for other, got in given if other < own and got < least), default="")
        instant, count = least[:12], int(least[13:17], 16)
        below = int(most[13:17], 16) + 1 if most[:12] == instant else count // 2
        return f"{instant}-{min(below, count):04x}-{own[18:]}"

    def gave(self, event: Fact, stamp: str) -> None:
        self._of(event["device"]).append((event["hlc"], stamp))

    def _of(self, device: str) -> list[tuple[str, str]]:
        if device not in self.given:
            found = Event.objects.filter(farm_id=self.farm_id, seq__gt=self.seq - LOOKED_AT, device=device)
            pairs = ((decode(raw)["hlc"], hlc) for raw, hlc in found.exclude(eff="").values_list("raw", "hlc"))
            self.given[device] = [(own, got) for own, got in pairs if own != got]
        return self.given[device]
