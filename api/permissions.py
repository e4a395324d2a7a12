"""Who may come in, as REST framework asks it of a view before anything else. Sync and pictures ask `access` itself.

A password in the body is no permission: it is read, counted and looked at with the rest of the body (`know_password`).
"""

from __future__ import annotations

from typing import Any

from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request

from herd.models.farm import ADVISER, FAMILY, OWNER
from herd.services.invitations import sign_up_is_open

from .access import READ_ONLY, access, signed_in
from .account.seats import must_have_proved
from .errors import ApiError

ONLY_OWNER = (403, "not_allowed", "Only an owner of the farm may do that: ask one of them.")
ONLY_KEEPERS = (403, "not_allowed", "Only an owner or family of the farm may do that.")
INVITED_ONLY = (403, "invited_only", "On this server only somebody with an invitation makes an account.")


class SignedIn(BasePermission):
    def has_permission(self, request: Request, view: Any) -> bool:
        signed_in(request._request)
        return True


class Member(BasePermission):
    """On the farm of the address. What was found of it is the view's, so that it is looked for once."""

    def has_permission(self, request: Request, view: Any) -> bool:
        view.held = access(request._request, view.kwargs["farm_id"])
        return True


class Owner(Member):
    def has_permission(self, request: Request, view: Any) -> bool:
        super().has_permission(request, view)
        if view.held.role != OWNER:
            raise ApiError(*ONLY_OWNER)
        return True


class Keeper(Member):
    """Whose farm it is: an owner, or family."""

    def has_permission(self, request: Request, view: Any) -> bool:
        super().has_permission(request, view)
        if view.held.role not in (OWNER, FAMILY):
            raise ApiError(*ONLY_KEEPERS)
        return True


class Recorder(Member):
    """Whoever records on the farm, and is not there to look alone."""

    def has_permission(self, request: Request, view: Any) -> bool:
        super().has_permission(request, view)
        if view.held.role == ADVISER:
            raise ApiError(*READ_ONLY)
        return True


class Proved(BasePermission):
    """By a secret of her own, and not by the phone she stands at: asked for what counts for good, not for a look."""

    def has_permission(self, request: Request, view: Any) -> bool:
        if request.method not in SAFE_METHODS:
            must_have_proved(request._request, signed_in(request._request))
        return True


class SignUpIsOpen(BasePermission):
    def has_permission(self, request: Request, view: Any) -> bool:
        if not sign_up_is_open():
            raise ApiError(*INVITED_ONLY)
        return True
