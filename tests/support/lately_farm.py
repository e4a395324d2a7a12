"""What the demo farm gets for the screens of kidding: a watch, a night going on, kids, supplies, tasks, a hand-over.

Run where the server's data are: `mangerline shell -c "from tests.support.lately_farm import Lately; Lately().live()"`.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from herd.models import Event, Farm, Person
from herd.services.clock import now_ms
from herd.services.wire import decode
from herd.services.work import work_off
from tests.logs import record
from tests.phones import Phone, new_id

HOUR_MS, DAY_MS = 3_600_000, 86_400_000
WATCHED, PUSHING, KIDDING, KID = "Bracken", "Comfrey", "Sorrel", "Nettle"
DOE = {"size": "standard", "breed": "alpine", "kiddings_before": 2}
LOOK = {"mouth": "", "rectal_c_x10": 0, "swallows": "", "fed": "", "up": "", "belly": "", "dead": False}
STOCK = (("Towels", 12, 3, 0), ("Navel dip", 1, 1, 20), ("Gloves, long", 10, 10, 0), ("Halter", 1, 1, 0))


class Lately:
    def __init__(self, name: str = "Tumblegate", owner: str = "Odette", helper: str = "Mirrin") -> None:
        self.farm, self.helper = Farm.objects.get(name=name), Person.objects.get(name=helper)
        self.phone = Phone(self.farm, Person.objects.get(name=owner))
        self.now, self.made = now_ms(), list[dict[str, Any]]()
        self.today = datetime.now(ZoneInfo(self.farm.zone)).date()

    def live(self) -> None:
        self.near_kidding()
        self.night()
        self.kids()
        self.stock()
        self.say("heat", self.known("doe", "Sedge"), {"what": "standing"}, 2)
        self.say("hand_over", str(self.farm.id), {"to": self.helper.pk, "word": "Bracken quiet, hay is in"}, 0.2)
        self.made.sort(key=lambda one: int(one["happened"]))
        answers = record(self.phone, *self.made, now=self.now)
        assert {one["st"] for one in answers} == {"ok"}, [one for one in answers if one["st"] != "ok"][:2]
        work_off(self.farm.pk)

    def known(self, kind: str, name: str) -> str:
        rows = Event.objects.filter(farm=self.farm, kind=kind).order_by("seq").values_list("subject", "raw")
        return next(str(subject) for subject, raw in rows if decode(raw)["data"]["f"].get("name") == name)

    def ago(self, d: int) -> date:
        return self.today - timedelta(days=d)

    def say(self, kind: str, subject: str, data: dict[str, Any], hours: float, d: int = 0) -> None:
        happened = self.now - int(hours * HOUR_MS) - d * DAY_MS
        self.made.append(self.phone.event(kind, subject, data, happened=happened, on=self.ago(d).isoformat()))

    def write(self, kind: str, fields: dict[str, Any], hours: float = 1, d: int = 0) -> str:
        it = new_id()
        self.say(kind, it, {"f": fields, "base": dict.fromkeys(fields, "")}, hours, d)
        return it

    def signs(self, doe: str, hours: float, *seen: str, absent: tuple[str, ...] = ()) -> None:
        self.say("signs", doe, {"seen": list(seen), "absent": list(absent)}, hours)

    def doe(self, name: str, bred_d: int) -> str:
        her = self.write("doe", {"name": name, **DOE}, 9, bred_d)
        self.say("moved", her, {"pen": self.known("pen", "Straw barn")}, 8.9, bred_d)
        on = self.ago(bred_d).isoformat()
        self.say("bred", her, {"from_on": on, "to_on": on, "how": "hand", "buck": "Rafter"}, 8, bred_d)
        return her

    def near_kidding(self) -> None:
        """One whose look is late, one who pushes without a kid."""
        watched, pushing = self.doe(WATCHED, 149), self.doe(PUSHING, 150)
        self.signs(watched, 10, "ligaments_soft", absent=("ligaments_gone",))
        self.signs(watched, 7, "ligaments_gone", "teats_strutted")
        self.signs(pushing, 5, "ligaments_gone", "mucus_amber")
        self.signs(pushing, 0.7, "straining")

    def night(self) -> None:
        """Two kids are out, one of them cold."""
        her = self.doe(KIDDING, 151)
        self.signs(her, 1, "straining")
        for n, hours in ((1, 0.6), (2, 0.3)):
            self.signs(her, hours, "kid_out")
            born = int((self.now - hours * HOUR_MS) // 60_000)
            fields = {"dam": her, "n": n, "born_on": self.today.isoformat(), "born_min": born, "sex": "doe"}
            self.write("kid", fields, hours)
        well = {"kid": 1, "mouth": "warm", "swallows": "yes", "fed": "sucked"}
        self.say("kid_look", her, {**LOOK, **well}, 0.4)
        self.say("kid_look", her, {**LOOK, "kid": 2, "mouth": "cold"}, 0.1)

    def kids(self, d: int = 12) -> None:
        dam, on = self.known("doe", "Hazel"), self.ago(d).isoformat()
        first = {"dam": dam, "n": 1, "born_on": on, "name": KID, "sex": "doe", "birth_g": 3400, "tag": "14"}
        kid = self.write("kid", {**first, "came": "alive", "rears": "dam", "sire": "Rafter", "navel": True}, 2, d)
        other = {"dam": dam, "n": 2, "born_on": on, "sex": "buck", "birth_g": 3900, "mark": "white left ear"}
        self.write("kid", {**other, "came": "alive", "rears": "bottle", "help": "eased"}, 1.9, d)
        for days, g in ((9, 3900), (5, 4700), (1, 5600)):
            self.say("kid_weight", kid, {"g": g, "how": "scale"}, 1, days)

    def stock(self) -> None:
        """Supplies that are short or too old, and a task of the herd's own."""
        for n, (name, par, count, late) in enumerate(STOCK):
            expires = self.ago(late).isoformat() if late else ""
            thing = {"name": name, "par": par, "count": count, "place": "Milk room", "expires_on": expires, "order": n}
            self.write("kit", {**thing, "gone": False})
        own = {"title": "Order hay", "anchor": "date", "from_d": 0, "to_d": 3, "date": self.ago(2).isoformat()}
        self.write("own_task", {**own, "every_d": 30, "gone": False})
