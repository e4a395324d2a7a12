"""Take the farm with you, take somebody's name off it, or close it: the owner, with the password again."""

from __future__ import annotations

import tempfile
from pathlib import Path

from django.conf import settings
from django.http import FileResponse
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Author, Membership
from herd.services.audit import audit
from herd.services.erase import NoOwnerLeft, erase_farm, erase_person, forget_author, forget_on
from herd.services.leaving.pack import export
from herd.services.limits import DAY_S, Limit, hit

from .access import Access
from .account.password import PasswordAgain, know_password
from .bodies import Text
from .errors import NOT_FOUND, ApiError
from .permissions import Owner
from .views import FarmView

EXPORTS = Limit("exports", 20, DAY_S)
NOT_ITS_NAME = (400, "bad_field", "Type the farm's name as it stands at the top.", "name")
LAST_OWNER = (409, "last_owner", "Somebody else must own the farm first, or close the farm instead.", "person")


class NameAndPassword(PasswordAgain):
    name = Text(max_length=60)


class AgainView(FarmView):
    """The password stands in for having proved herself earlier, on this browser."""

    permission_classes = (Owner,)
    takes = {"POST": PasswordAgain}

    def know_password(self) -> Access:
        held = self.held
        know_password(self.request._request, held.person, self.asked["password"], held.farm)
        return held


class ExportView(AgainView):
    """The whole farm as a ZIP."""

    def post(self, request: Request, farm_id: str) -> FileResponse:
        held = self.know_password()
        # Only now, and by no throttle: a password mistyped twenty times must not keep anybody from her farm's file.
        hit(EXPORTS, farm_id)
        with tempfile.TemporaryDirectory(dir=settings.DATA_DIR) as folder:
            path = Path(folder) / "farm.zip"
            export(held.farm, path)
            # Open still when its name is gone: nothing is left behind, whatever becomes of the answer.
            file = path.open("rb")
        audit(held.farm, held.person, "exported")
        name = f"{held.farm.name} {timezone.now():%Y-%m-%d}.zip"
        answer = FileResponse(file, as_attachment=True, filename=name, content_type="application/zip")
        # It is packed already, and its length tells the phone how far it is.
        answer["Content-Encoding"] = "identity"
        return answer


class CloseFarmView(AgainView):
    """Every row of the farm, gone."""

    takes = {"POST": NameAndPassword}

    def post(self, request: Request, farm_id: str) -> Response:
        held = self.know_password()
        if self.asked["name"].casefold() != held.farm.name.casefold():
            raise ApiError(*NOT_ITS_NAME)
        erase_farm(held.farm, held.person)
        return Response({"closed": farm_id})


class ErasePersonView(AgainView):
    """Somebody's name off the farm; off the whole server where they are on no other farm."""

    def post(self, request: Request, farm_id: str, person_id: str) -> Response:
        held = self.know_password()
        try:
            everywhere = _erase(held, person_id)
        except NoOwnerLeft as error:
            raise ApiError(*LAST_OWNER) from error
        return Response({"erased": person_id, "everywhere": everywhere})


def _erase(held: Access, person_id: str) -> bool:
    member = next((one for one in held.members if one.person_id == person_id), None)
    author = Author.objects.filter(farm=held.farm, person=person_id).first()
    if member is None:
        if author is None:
            raise ApiError(*NOT_FOUND)
        forget_author(author, held.person)
        return False
    elsewhere = Membership.objects.filter(person_id=person_id).exclude(farm=held.farm).exists()
    if elsewhere or person_id == held.person.pk:
        forget_on(held.farm, member.person, held.person)
        return False
    erase_person(member.person, held.person)
    return True
