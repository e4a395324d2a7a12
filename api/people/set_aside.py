from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response

from herd.services.set_aside import PAGE, dismiss, let_in, listed

from ..errors import NOT_FOUND, ApiError
from ..permissions import Owner, Proved
from ..sync import number
from ..views import FarmView


class SetAsideView(FarmView):
    """What people recorded who had left by the time it arrived, or others brought, in the order it came."""

    permission_classes = (Owner,)

    def get(self, request: Request, farm_id: str) -> Response:
        rows = listed(self.held.farm, number(request._request, "after", 0))
        return Response({"entries": rows, "more": len(rows) == PAGE})


class LetInView(FarmView):
    """Answered as a phone would be: refused ones stay on the list, with the reason."""

    permission_classes = (Owner, Proved)

    def post(self, request: Request, farm_id: str, row: int) -> Response:
        answer = let_in(self.held.farm, row, self.held.person)
        if answer is None:
            raise ApiError(*NOT_FOUND)
        return Response({"answer": answer})


class DismissView(FarmView):
    permission_classes = (Owner, Proved)

    def post(self, request: Request, farm_id: str, row: int) -> Response:
        if not dismiss(self.held.farm, row, self.held.person):
            raise ApiError(*NOT_FOUND)
        return Response(status=204)
