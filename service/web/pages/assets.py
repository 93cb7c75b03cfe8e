"""Style sheets, scripts and marks: served under an address that changes with their content."""

from __future__ import annotations

from hashlib import blake2b
from pathlib import Path
from typing import Final

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

FOLDER: Final = Path(__file__).parent.parent / "static"
FOR_EVER: Final = "public, max-age=31536000, immutable"


def version_of(folder: Path) -> str:
    """A short word that changes when any file of the folder does."""
    digest = blake2b(digest_size=6)
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        digest.update(file.relative_to(folder).as_posix().encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


ASSETS: Final = f"/static/{version_of(FOLDER)}"


class Assets(StaticFiles):
    """Files that may be kept for ever, because another content has another address."""

    def __init__(self) -> None:
        super().__init__(directory=FOLDER)

    async def get_response(self, path: str, scope: Scope) -> Response:
        answer = await super().get_response(path, scope)
        if answer.status_code < 400:
            answer.headers["Cache-Control"] = FOR_EVER
        return answer
