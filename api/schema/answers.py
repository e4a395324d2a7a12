"""What the server answers, for whoever reads the schema. The views make these answers by hand."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers as s

Answer = s.Serializer[Any]


class Failure(Answer):
    code = s.CharField(help_text="What a program goes by.")
    message = s.CharField(help_text="What a person reads: what to do.")
    where = s.CharField(allow_blank=True, help_text="The field it is about, or nothing.")
    wait_s = s.IntegerField(required=False, help_text="Where it was too often: again after so many seconds.")
    epoch = s.IntegerField(required=False, help_text="Where the log was put back: the one that counts from now on.")
    left = s.IntegerField(required=False, help_text="PINs she may still try.")
    starts_on = s.DateField(required=False, help_text="When her place on the farm begins.")


class Named(Answer):
    id = s.CharField()
    name = s.CharField()


class Account(Answer):
    email = s.CharField(allow_blank=True)
    pin = s.BooleanField()
    recovery_code = s.BooleanField()
    second_step = s.BooleanField()


class FarmRow(Answer):
    id = s.CharField()
    name = s.CharField()
    zone = s.CharField()
    role = s.ChoiceField(["owner", "family", "helper", "adviser"])
    epoch = s.IntegerField()
    starts_on = s.DateField(required=False)
    ends_on = s.DateField(required=False)
    pack = s.CharField(required=False)


class PinCheck(Answer):
    rounds = s.IntegerField()
    salt = s.CharField()
    hash = s.CharField()


class Sharer(Named):
    pin = s.BooleanField()
    verifier = PinCheck(allow_null=True)


class Versions(Answer):
    app = s.CharField()
    science = s.CharField()
    schema = s.IntegerField()


class Session(Answer):
    person = Named(allow_null=True)
    account = Account(allow_null=True)
    farms = FarmRow(many=True)
    seats = Sharer(many=True)
    sign_up = s.ChoiceField(["open", "invited"])
    mail = s.BooleanField()
    csrf = s.CharField()
    versions = Versions()


class SignedUp(Session):
    recovery_code = s.CharField()


class Joined(Session):
    farm = s.CharField()
    recovery_code = s.CharField(required=False)


class Code(Answer):
    recovery_code = s.CharField()


class PinSet(Answer):
    pin = s.BooleanField()


class StepSet(Answer):
    second_step = s.BooleanField()


class SeatRow(Answer):
    id = s.IntegerField()
    agent = s.CharField(allow_blank=True)
    since = s.IntegerField()
    used = s.IntegerField()
    here = s.BooleanField()


class Seats(Answer):
    seats = SeatRow(many=True)


class Farms(Answer):
    farms = FarmRow(many=True)


class FarmFileBegun(Answer):
    file = s.CharField()
    part_bytes = s.IntegerField(help_text="Of each part but the last, which is the rest.")


class Place(Answer):
    role = s.CharField()
    starts_on = s.CharField(allow_blank=True)
    ends_on = s.CharField(allow_blank=True)
    does = s.ListField(child=s.CharField())
    pack = s.CharField(allow_blank=True)


class InvitationRow(Place):
    id = s.CharField()
    whom = s.CharField(allow_blank=True)
    made_by = s.CharField(allow_blank=True)
    made = s.IntegerField()
    until = s.IntegerField()
    code_until = s.IntegerField(allow_null=True)


class Invitations(Answer):
    invitations = InvitationRow(many=True)


class InvitationWithCode(InvitationRow):
    code = s.CharField()


class NewInvitationMade(InvitationWithCode):
    link = s.CharField()
    qr = s.CharField(help_text="A picture of the link, as SVG.")


class InvitationSeen(InvitationRow):
    farm = s.CharField()


class CalendarLink(Answer):
    made = s.IntegerField(allow_null=True, help_text="When her link was made, ms; null where she has none.")


class CalendarLinkMade(CalendarLink):
    link = s.CharField()
    qr = s.CharField(help_text="A picture of the link, as SVG.")


class MemberRow(Place):
    person = s.CharField()
    name = s.CharField()
    since = s.IntegerField()
    gone = s.IntegerField(allow_null=True)
    gone_why = s.CharField(allow_blank=True)


class Members(Answer):
    members = MemberRow(many=True)


class AsideRow(Answer):
    id = s.IntegerField()
    event = s.DictField(help_text="As it was recorded.")
    author = s.CharField(allow_blank=True)
    sent_by = s.CharField(allow_blank=True)
    received_ms = s.IntegerField()


class SetAside(Answer):
    entries = AsideRow(many=True)
    more = s.BooleanField()


@extend_schema_field({"$ref": "#/components/schemas/EntryAnswer"})
class AsPushed(s.JSONField):
    """Answered as a push would be."""


class LetIn(Answer):
    answer = AsPushed()


class AuditRow(Answer):
    id = s.IntegerField()
    at = s.IntegerField()
    person = s.CharField(allow_blank=True)
    name = s.CharField(allow_blank=True)
    what = s.CharField()
    about = s.CharField(allow_blank=True)
    detail = s.CharField(allow_blank=True)


class AuditPage(Answer):
    rows = AuditRow(many=True)
    more = s.BooleanField()


class Subscribed(Answer):
    here = s.BooleanField(help_text="Whether this browser is told.")


class NoticeRow(Answer):
    tag = s.CharField()
    title = s.CharField()
    body = s.CharField()
    url = s.CharField()
    at = s.IntegerField()
    urgent = s.BooleanField()
    over = s.BooleanField(help_text="Done since, or no longer so.")


class Notices(Subscribed):
    key = s.CharField(help_text="The server's own, for the browser to subscribe with.")
    kinds = s.ListField(child=s.CharField())
    quiet_from_min = s.IntegerField()
    quiet_to_min = s.IntegerField()
    language = s.ChoiceField(["en", "es"])
    notices = NoticeRow(many=True)


class Closed(Answer):
    closed = s.CharField()


class ErasedPerson(Answer):
    erased = s.CharField()
    everywhere = s.BooleanField()
