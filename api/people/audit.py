from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.services.audit import PAGE, audit_page

from ..access import owner
from ..sync import number


class AuditView(APIView):
    """Newest first; the next page begins before the last id of this one."""

    def get(self, request: Request, farm_id: str) -> Response:
        held = owner(request._request, farm_id)
        rows = audit_page(held.farm, number(request._request, "before", 0) or None)
        return Response({"rows": rows, "more": len(rows) == PAGE})
