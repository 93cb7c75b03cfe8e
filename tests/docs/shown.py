"""What a document shows: commands with their output, and requests with their answers.

A fence ```console holds commands (`$ ...`, going on while a quote is open or a line ends in a
backslash), each followed by its output. A line `...` in an output stands for lines left out. A
fence ```json after a request of curl shows its answer; `"...": "..."` in an object and `"..."` at
the end of a list stand for what is left out.

Requests are asked of the application itself; all other commands run in a shell.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from fastapi.testclient import TestClient
from httpx import Response

CUT = "..."
WIDTH = 92
HOST = "127.0.0.1:8017"
BIN = Path(sys.executable).parent
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Shown:
    """One command and what is shown of it: the text from `start` to `end` of the document."""

    command: str
    text: str
    start: int
    end: int
    is_answer: bool

    @property
    def is_request(self) -> bool:
        return self.command.startswith("curl ")


def shown_in(document: str) -> list[Shown]:
    """Everything that a document shows, in order."""
    found: list[Shown] = []
    asked = ""
    for fence in FENCE.finditer(document):
        kind, start = fence.group(1), fence.start(2)
        if kind == "console":
            block = list(_commands(fence.group(2), start))
            found += [shown for shown in block if not shown.is_request]
            asked = block[-1].command if block and block[-1].is_request else ""
        elif kind == "json" and asked:
            found.append(Shown(asked, fence.group(2), start, fence.end(2), True))
            asked = ""
    return found


def _commands(block: str, offset: int) -> Iterator[Shown]:
    lines = block.splitlines(keepends=True)
    place = offset
    while lines:
        command = lines.pop(0)
        place += len(command)
        assert command.startswith("$ "), f"no command: {command!r}"
        while _goes_on(command):
            place += len(lines[0])
            command += lines.pop(0)
        output = ""
        while lines and not lines[0].startswith("$ "):
            output += lines.pop(0)
        yield Shown(command[2:].strip(), output, place, place + len(output), False)
        place += len(output)


def _goes_on(command: str) -> bool:
    if command.rstrip("\n").endswith("\\"):
        return True
    try:
        shlex.split(command)
    except ValueError:
        return True
    return False


def asked_of(client: TestClient, command: str) -> Response:
    """The answer to a request written for curl; only the options that the documents use."""
    words = shlex.split(command.replace("\\\n", " "))[1:]
    method, address, headers, body = "GET", "", {}, None
    while words:
        match words.pop(0):
            case "-s":
                pass
            case "-X":
                method = words.pop(0)
            case "-H":
                name, _, value = words.pop(0).partition(": ")
                headers[name] = value
            case "--json":
                body = words.pop(0)
                method = "POST" if method == "GET" else method
                headers |= {"content-type": "application/json", "accept": "application/json"}
            case word:
                assert word.startswith("http://"), f"{word} is no option known here"
                address = word
    assert urlsplit(address).netloc == HOST
    return client.request(method, address, headers=headers, content=body)


def run(command: str, folder: Path) -> str:
    """What a command prints, run in a shell in that folder: results, then talk."""
    environment = {k: v for k, v in os.environ.items() if not k.startswith("MARC_")}
    environment |= {"PATH": f"{BIN}{os.pathsep}{environment['PATH']}", "COLUMNS": str(WIDTH)}
    done = subprocess.run(
        command, shell=True, cwd=folder, env=environment, text=True, check=False,
        capture_output=True, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    return done.stdout + done.stderr


def now(shown: Shown, client: TestClient, folder: Path) -> str:
    """What the document should show: what is answered now, cut where the document cuts."""
    if shown.is_answer:
        return laid_out(cut_alike(json.loads(shown.text), asked_of(client, shown.command).json()))
    return cut_lines(shown.text, run(shown.command, folder))


def cut_lines(shown: str, output: str) -> str:
    """An output with as many lines before and after `...` as are shown now."""
    lines, kept = output.splitlines(keepends=True), shown.splitlines(keepends=True)
    if f"{CUT}\n" not in kept:
        return output
    first = kept.index(f"{CUT}\n")
    last = len(kept) - first - 1
    if len(lines) <= first + last:
        return output
    return "".join([*lines[:first], f"{CUT}\n", *lines[len(lines) - last :]])


def cut_alike(shown: Any, answer: Any) -> Any:
    """An answer with the keys and as many items as are shown now."""
    match shown, answer:
        case dict(), dict() if CUT in shown:
            kept = {k: cut_alike(v, answer[k]) for k, v in shown.items() if k in answer}
            return {**kept, CUT: CUT} if len(kept) < len(answer) else kept
        case dict(), dict():
            return {k: cut_alike(shown.get(k), v) for k, v in answer.items()}
        case list(), list() if shown and shown[-1] == CUT:
            pairs = zip(shown[:-1], answer, strict=False)
            kept_items = [cut_alike(s, a) for s, a in pairs]
            return [*kept_items, CUT] if len(kept_items) < len(answer) else kept_items
        case list(), list():
            return [
                cut_alike(shown[i] if i < len(shown) else None, a) for i, a in enumerate(answer)
            ]
    return answer


def laid_out(value: Any) -> str:
    """JSON for readers: what fits on a line stays on one."""
    return "\n".join(_lines(value, "")) + "\n"


def _lines(value: Any, indent: str) -> list[str]:
    whole = json.dumps(value, ensure_ascii=False)
    if len(indent) + len(whole) <= WIDTH or not isinstance(value, dict | list) or not value:
        return [whole]
    inner = indent + "  "
    named = isinstance(value, dict)
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    lines = ["{" if named else "["]
    for name, part in parts:
        head, *rest = _lines(part, inner)
        lines += [inner + (f"{json.dumps(name)}: " if named else "") + head, *rest]
        lines[-1] += ","
    lines[-1] = lines[-1].removesuffix(",")
    return [*lines, indent + ("}" if named else "]")]
