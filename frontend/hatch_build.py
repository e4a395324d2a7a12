from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class ClientBuild(BuildHookInterface[Any]):
    """Builds the client for the wheel and the source archive, so a user's machine needs no Node.js of its own."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        sys.path.insert(0, str(Path(self.root) / "frontend"))
        from client_build import build

        build()
