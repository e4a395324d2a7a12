"""Who is on a farm, as what and until when. A place that is over stays as a name beside what was recorded in it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db import transaction
from django.utils import timezone

from herd.models import Author, CalendarLink, Farm, Membership, NoticeChoice, Person, Seat
from herd.models.farm import ADVISER, ENDED, HELPER, LEFT, OWNER, REMOVED, ROLES

from .audit import audit
from .clock import day_of, now_ms
from .seats import MOST_WRONG_PINS
from .stands import dates_of_pack


class BadMember(ValueError):
    def __init__(self, code: str, why: str, where: str = "") -> None:
        super().__init__(why)
        self.code, self.where = code, where


NOBODY = ("not_found", "Whoever that is is not on this farm.", "person")
LAST_OWNER = ("last_owner", "A farm needs an owner: make somebody else one first.", "role")
BY_INVITATION = ("bad_field", "An adviser is invited with the does she may see: remove them and invite anew.", "role")
OWNER_STAYS = ("owner_stays", "An owner has no last day: make them family or helper first.", "ends_on")
LOOKS_UNTIL = ("bad_field", "Say until which day the adviser may look.", "ends_on")
NO_DAY = ("bad_field", "The last day must not be before the first, nor past.", "ends_on")
NO_FIRST_DAY = ("bad_field", "The first day must not be after the last.", "starts_on")
NO_HELPER = ("bad_field", "Only a helper goes by a pack: make them a helper first.", "pack")
NO_PACK = ("bad_field", "This farm has no such pack: send what waits on your phone, then give it again.", "pack")
PACK_TURNED = ("bad_field", "That pack ends before it begins: change its days first.", "pack")
PACK_OVER = ("bad_field", "The days of that pack are over: change them first.", "pack")
NO_ROLE = ("bad_field", "Choose owner, family or helper.", "role")

DAYS = ("starts_on", "ends_on")
SET_OR_GONE = {
    ("starts_on", True): "first_day_set",
    ("starts_on", False): "first_day_gone",
    ("ends_on", True): "last_day_set",
    ("ends_on", False): "last_day_gone",
}


def today_on(farm: Farm) -> date:
    return day_of(now_ms(), farm.zone)


def roll(farm_id: str) -> list[Membership]:
    """All who are or were on a farm, in the order they came; whose last day is over is no longer on it from here on."""
    rows = Membership.everyone.filter(farm_id=farm_id).select_related("farm", "person").order_by("id")
    return _ended(list(rows))


def memberships(person: Person | None) -> list[Membership]:
    """A person's farms, those to come included."""
    rows = Membership.objects.filter(person=person).select_related("farm", "person").order_by("id") if person else []
    return [member for member in _ended(list(rows)) if member.gone_at is None]


def _ended(members: list[Membership]) -> list[Membership]:
    for member in members:
        if member.gone_at is None and member.ends_on and member.ends_on < today_on(member.farm):
            _end(member, ENDED, None)
    return members


def not_yet(member: Membership) -> bool:
    return member.starts_on is not None and member.starts_on > today_on(member.farm)


def set_role(farm: Farm, person_id: str, role: str, by: Person) -> Membership:
    if role not in dict(ROLES):
        raise BadMember(*NO_ROLE)
    with transaction.atomic():
        member = _locked(farm, person_id)
        if ADVISER in (role, member.role):
            raise BadMember(*BY_INVITATION)
        if member.role == OWNER != role:
            _another_owner(farm, member)
        was, member.role = member.role, role
        # Who was let in for some days and is given another place stays.
        member.starts_on = member.ends_on = None
        member.pack = ""
        member.save(update_fields=["role", "starts_on", "ends_on", "pack"])
        audit(farm, by, "role_changed", f"{person_id} {was} {role}")
    return member


def set_days(farm: Farm, person_id: str, days: dict[str, date | None], by: Person) -> Membership:
    """First and last day on the farm, one of them or both. After the last she is on it no more; without one she
    stays."""
    with transaction.atomic():
        member = _locked(farm, person_id)
        if member.role == OWNER:
            _another_owner(farm, member)
            raise BadMember(*OWNER_STAYS)
        was = {name: getattr(member, name) for name in DAYS}
        now = was | days
        _check_days(member, now, moved="ends_on" in days)
        for name in [name for name in DAYS if now[name] != was[name]]:
            setattr(member, name, now[name])
            _say_day(member, name, by)
        member.save(update_fields=list(DAYS))
    return member


def _check_days(member: Membership, days: dict[str, date | None], moved: bool) -> None:
    first, last = days["starts_on"], days["ends_on"]
    if member.role == ADVISER and last is None:
        raise BadMember(*LOOKS_UNTIL)
    if moved and last and last < max(today_on(member.farm), first or last):
        raise BadMember(*NO_DAY)
    if first and last and last < first:
        raise BadMember(*NO_FIRST_DAY)


def _say_day(member: Membership, name: str, by: Person) -> None:
    day = getattr(member, name)
    said = f"{member.person_id} {day.isoformat()}" if day else member.person_id
    audit(member.farm, by, SET_OR_GONE[name, bool(day)], said)


def give_pack(farm: Farm, person_id: str, pack: str, by: Person) -> Membership:
    """By which pack a helper looks after the farm; "" takes it away, and she stays as long as she was to."""
    with transaction.atomic():
        member = _locked(farm, person_id)
        if member.pack == pack:
            return member
        if pack:
            _check_pack(member, pack)
        member.pack = pack
        member.save(update_fields=["pack"])
        if pack:
            audit(farm, by, "pack_given", f"{person_id} {pack}")
        else:
            audit(farm, by, "pack_taken", person_id)
    return member


def _check_pack(member: Membership, pack: str) -> None:
    if member.role != HELPER:
        raise BadMember(*NO_HELPER)
    dates = dates_of_pack(member.farm_id, pack)
    if dates is None:
        raise BadMember(*NO_PACK)
    first, last = dates
    if last < first:
        raise BadMember(*PACK_TURNED)
    if last < today_on(member.farm).isoformat():
        raise BadMember(*PACK_OVER)


def remove(farm: Farm, person_id: str, by: Person) -> None:
    """Takes her off the farm; who does that to herself leaves."""
    with transaction.atomic():
        member = _locked(farm, person_id)
        if member.role == OWNER:
            _another_owner(farm, member)
        _end(member, LEFT if by.pk == person_id else REMOVED, by)


def _locked(farm: Farm, person_id: str) -> Membership:
    """The farm's row keeps two owners from putting each other out at once."""
    Farm.objects.select_for_update().get(pk=farm.pk)
    member = Membership.objects.select_related("farm", "person").filter(farm=farm, person_id=person_id).first()
    if member is None:
        raise BadMember(*NOBODY)
    return member


def _another_owner(farm: Farm, member: Membership) -> None:
    if not Membership.objects.filter(farm=farm, role=OWNER).exclude(pk=member.pk).exists():
        raise BadMember(*LAST_OWNER)


def _end(member: Membership, why: str, by: Person | None) -> None:
    member.gone_at, member.gone_why = timezone.now(), why
    ended = Membership.objects.filter(pk=member.pk).update(gone_at=member.gone_at, gone_why=why)
    if ended:
        NoticeChoice.objects.filter(farm=member.farm_id, person=member.person_id).delete()
        _lock_seats(member.person)
        CalendarLink.objects.filter(farm=member.farm, person=member.person).delete()
        audit(member.farm, by or member.person, why, f"{member.person_id} {member.role}")


def _lock_seats(person: Person) -> None:
    """On a phone she shares nobody goes on as her, or sends in her name, without her password. What she recorded there
    waits on it until she hands it in herself."""
    seats = Seat.objects.filter(person=person)
    shared = Seat.objects.filter(browser__in=seats.values("browser")).exclude(person=person)
    seats.filter(browser__in=list(shared.values_list("browser", flat=True))).update(wrong_pins=MOST_WRONG_PINS)


def authors_of(farm: Farm) -> list[dict[str, object]]:
    """Names of who wrote on a farm that was brought here, and was never on it: they have no role."""
    found = Author.objects.filter(farm=farm).order_by("pk") if farm.came_from else Author.objects.none()
    return [{"id": one.person, "name": one.name, "role": ""} for one in found]


def names_of(members: Iterable[Membership]) -> list[dict[str, object]]:
    """For the phones: who recorded what, by which pack they look after the farm and on which days they are on it. Of
    those who are gone only their name and role are left."""
    return [{"id": m.person_id, "name": m.person.name, "role": m.role, **_more(m)} for m in members]


def _more(member: Membership) -> dict[str, object]:
    if member.gone_at:
        return {"gone": True}
    days = {name: day.isoformat() for name in DAYS if (day := getattr(member, name))}
    return {"pack": member.pack, **days} if member.pack else dict(days)
