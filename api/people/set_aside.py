from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.services.set_aside import PAGE, dismiss, let_in, listed

from ..access import owner
from ..errors import NOT_FOUND, ApiError
from ..sync import number


class SetAsideView(APIView):
    """What people recorded who had left by the time it arrived, in the order it came."""

    def get(self, request: Request, farm_id: str) -> Response:
        held = owner(request._request, farm_id)
        rows = listed(held.farm, number(request._request, "after", 0))
        return Response({"entries": rows, "more": len(rows) == PAGE})


class LetInView(APIView):
    """Answered as a phone would be: refused ones stay on the list, with the reason."""

    def post(self, request: Request, farm_id: str, row: int) -> Response:
        held = owner(request._request, farm_id, proved=True)
        answer = let_in(held.farm, row, held.person)
        if answer is None:
            raise ApiError(*NOT_FOUND)
        return Response({"answer": answer})


class DismissView(APIView):
    def post(self, request: Request, farm_id: str, row: int) -> Response:
        held = owner(request._request, farm_id, proved=True)
        if not dismiss(held.farm, row, held.person):
            raise ApiError(*NOT_FOUND)
        return Response(status=204)
