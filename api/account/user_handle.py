"""Whom a passkey names by itself: a text only whoever sends it vouches for."""

from __future__ import annotations

from typing import Any

from fido2.utils import websafe_decode


def named_in(said: Any) -> str:
    """The id, or "" where none can be read."""
    try:
        return websafe_decode(said["credential"]["response"]["userHandle"]).decode()
    except (ValueError, TypeError, KeyError, AttributeError):
        return ""
