"""The page's own files, with what a browser may keep: hashed ones for good, the others until they change."""

from __future__ import annotations

import os
import re

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

_HASHED = re.compile(r"-[A-Z0-9]{8}\.(js|css)$")


class PageFiles(StaticFiles):
    """Static files whose names say whether their bytes can change."""

    def file_response(
        self,
        full_path: str | os.PathLike[str],
        stat_result: os.stat_result,
        scope: Scope,
        status_code: int = 200,
    ) -> Response:
        """The file, or 304 where the browser has it."""
        answer = super().file_response(full_path, stat_result, scope, status_code)
        kept = "max-age=31536000, immutable" if _HASHED.search(str(full_path)) else "no-cache"
        answer.headers["Cache-Control"] = kept
        return answer
