"""Take the farm with you, take somebody's name off it, or close it: the owner, with the password again."""

from __future__ import annotations

import tempfile
from pathlib import Path

from django.conf import settings
from django.http import FileResponse
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.models import Author, Membership
from herd.services.audit import audit
from herd.services.erase import NoOwnerLeft, erase_farm, erase_person, forget_author, forget_on
from herd.services.leaving.pack import export
from herd.services.limits import DAY_S

from .access import Access, owner
from .account.password import PasswordAgain, know_password
from .bodies import Text, checked
from .errors import NOT_FOUND, ApiError
from .throttle import count

EXPORTS_A_DAY = 20
NOT_ITS_NAME = (400, "bad_field", "Type the farm's name as it stands at the top.", "name")
LAST_OWNER = (409, "last_owner", "Somebody else must own the farm first, or close the farm instead.", "person")


class NameAndPassword(PasswordAgain):
    name = Text(max_length=60)


class ExportView(APIView):
    """The whole farm as a ZIP."""

    def post(self, request: Request, farm_id: str) -> FileResponse:
        held = owner_again(request, farm_id, checked(PasswordAgain, request)["password"])
        count(f"export:{farm_id}", EXPORTS_A_DAY, DAY_S)
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


class CloseFarmView(APIView):
    """Every row of the farm, gone."""

    def post(self, request: Request, farm_id: str) -> Response:
        said = checked(NameAndPassword, request)
        held = owner_again(request, farm_id, said["password"])
        if said["name"].casefold() != held.farm.name.casefold():
            raise ApiError(*NOT_ITS_NAME)
        erase_farm(held.farm, held.person)
        return Response({"closed": farm_id})


class ErasePersonView(APIView):
    """Somebody's name off the farm; off the whole server where they are on no other farm."""

    def post(self, request: Request, farm_id: str, person_id: str) -> Response:
        held = owner_again(request, farm_id, checked(PasswordAgain, request)["password"])
        try:
            everywhere = _erase(held, person_id)
        except NoOwnerLeft as error:
            raise ApiError(*LAST_OWNER) from error
        return Response({"erased": person_id, "everywhere": everywhere})


def owner_again(request: Request, farm_id: str, password: str) -> Access:
    held = owner(request._request, farm_id)
    know_password(request._request, held.person, password, held.farm)
    return held


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
