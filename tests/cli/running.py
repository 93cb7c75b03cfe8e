"""Running `marc`: in this process where many are run, in its own where the process is the point."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from unittest.mock import patch

from service.cli import main
from service.counter.known import Known

MARC = Path(sys.executable).with_name("marc")


@dataclass(frozen=True, slots=True)
class Done:
    """How a command ended, and what it wrote."""

    code: int
    out: bytes
    said: str

    @property
    def line(self) -> str:
        """What was said on standard error, which is one line for people."""
        assert self.said.startswith("marc: "), self.said
        assert self.said.endswith("\n")
        assert self.said.count("\n") == 1, self.said
        return self.said.removeprefix("marc: ").rstrip()


class Marc:
    """The command in this process; what it knows is loaded once for all of them."""

    def __init__(self, known: Known, folder: Path) -> None:
        self.known = known
        self.folder = folder

    def __call__(self, *words: str, given: bytes = b"", **environment: str) -> Done:
        out, said = io.BytesIO(), io.StringIO()
        with contextlib.ExitStack() as stack:
            stack.enter_context(contextlib.chdir(self.folder))
            stack.enter_context(patch.dict(os.environ, clean_environment(environment), clear=True))
            for module in loading_modules():
                stack.enter_context(patch.object(module, "load_known", lambda: self.known))
            stdout = io.TextIOWrapper(out, "utf-8", write_through=True)
            stack.enter_context(patch.object(sys, "argv", ["marc", *words]))
            stack.enter_context(patch.object(sys, "stdin", io.TextIOWrapper(io.BytesIO(given))))
            stack.enter_context(patch.object(sys, "stdout", stdout))
            stack.enter_context(patch.object(sys, "stderr", said))
            code = 0
            try:
                main.run()
            except SystemExit as end:
                code = end.code if isinstance(end.code, int) else 0
            return Done(code, out.getvalue(), said.getvalue())


def loading_modules() -> list[ModuleType]:
    """The commands that load what the service knows."""
    return [
        module
        for name, module in sys.modules.items()
        if name.startswith("service.cli.") and hasattr(module, "load_known")
    ]


def own_process(*words: str, given: bytes = b"", folder: Path | None = None) -> Done:
    """The command as a shell runs it."""
    done = subprocess.run(
        [MARC, *words], input=given, capture_output=True, check=False, cwd=folder,
        env=clean_environment({}),
    )  # fmt: skip
    return Done(done.returncode, done.stdout, done.stderr.decode())


def clean_environment(given: dict[str, str]) -> dict[str, str]:
    """The environment without settings of the service but those that are given."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith("MARC_")}
    return {**clean, "COLUMNS": "100", **given}
