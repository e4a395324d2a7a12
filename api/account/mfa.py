from __future__ import annotations

from typing import Any

from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator


class SecondStep(DefaultMFAAdapter):
    """A passkey opens the account by itself. That a password is not enough without it is her own choice: the shared
    phone in the barn cannot use the key that lies in her pocket."""

    def is_mfa_enabled(self, user: Any, types: Any = None) -> bool:
        asked = types is not None and Authenticator.Type.WEBAUTHN in types
        if asked and not getattr(user, "second_step", False):
            return False
        return bool(super().is_mfa_enabled(user, types))
