"""What cannot be undone, or hands everything out, is done by the owner, who says again that it is them."""

from __future__ import annotations

from django.http import HttpRequest

from herd.models.farm import OWNER
from herd.services.audit import audit
from herd.services.limits import Limit, clear, hit

from .access import Access, access
from .errors import ApiError

AGAIN = Limit("step_up", 10, 15 * 60)
ONLY_OWNER = (403, "not_allowed", "Only an owner of the farm may do that: ask one of them.")
WRONG = (400, "wrong_password", "That is not your password.", "password")


def owner_again(request: HttpRequest, farm_id: str, password: str) -> Access:
    """The owner of the farm, whose password was just given."""
    held = access(request, farm_id)
    if held.role != OWNER:
        raise ApiError(*ONLY_OWNER)
    hit(AGAIN, held.person.pk)
    if not held.person.check_password(password):
        audit(held.farm, held.person, "wrong_password", request.path.rsplit("/", 1)[-1])
        raise ApiError(*WRONG)
    clear(AGAIN, held.person.pk)
    return held
