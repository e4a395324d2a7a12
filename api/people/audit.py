from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response

from herd.services.audit import PAGE, audit_page

from ..permissions import Owner
from ..sync import number
from ..views import FarmView


class AuditView(FarmView):
    """Newest first; the next page begins before the last id of this one."""

    permission_classes = (Owner,)

    def get(self, request: Request, farm_id: str) -> Response:
        rows = audit_page(self.held.farm, number(request._request, "before", 0) or None)
        return Response({"rows": rows, "more": len(rows) == PAGE})
