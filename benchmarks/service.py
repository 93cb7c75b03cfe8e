"""How fast the service answers, as ratios to an empty FastAPI application in the same run.

    python -m benchmarks.service

Prints: start to first correct answer, by the clock and by the processor, and the memory held then
(on Linux); one full answer warm in the process; throughput for one repeated coffee and for
changing coffees over 16 connections on loopback.
"""

from __future__ import annotations

import asyncio
import itertools
import json
import os
import socket
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import httpx
import orjson

EMPTY: Final = """
from fastapi import FastAPI
from starlette.responses import Response
BODY = open({path!r}, "rb").read()
app = FastAPI()
@app.post("/api/v1/pairings")
async def same_bytes():
    return Response(BODY, media_type="application/json")
"""
PATH: Final = "/api/v1/pairings"
CONNECTIONS: Final = 16
REQUESTS: Final = 800
JSON: Final = {"content-type": "application/json"}
NOTES: Final = ("cherry", "bergamot", "dark chocolate", "toasted hazelnut", "plum", "jasmine",
                "burnt sugar", "cedar", "blueberry", "honey", "black tea")  # fmt: skip


def changing_coffees() -> Iterator[bytes]:
    """A different pair of notes each time."""
    for first, second in itertools.cycle(itertools.permutations(NOTES, 2)):
        yield json.dumps({"coffee": {"notes": f"{first}, {second}"}}).encode()


def free_port() -> int:
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return int(s.getsockname()[1])


@dataclass(frozen=True, slots=True)
class Started:
    """A server that has given its first answer: what that took, and what it holds by then."""

    address: str
    seconds: float
    cpu_seconds: float
    resident_mib: float


@contextmanager
def serving(app: str, *, factory: bool, folder: str) -> Iterator[Started]:
    """A server in a process of its own."""
    port = free_port()
    command = [sys.executable, "-m", "uvicorn", app, "--port", str(port), "--log-level", "error"]
    if factory:
        command.append("--factory")
    environment = {**os.environ, "PYTHONPATH": f"{folder}:{os.getcwd()}",
                   "MARC_DATABASE_URL": f"sqlite:///{folder}/bench.sqlite"}  # fmt: skip
    start = time.perf_counter()
    process = subprocess.Popen(command, env=environment)
    try:
        address = f"http://127.0.0.1:{port}"
        seconds = _first_answer(address, start)
        yield Started(address, seconds, *_used(process.pid))
    finally:
        process.terminate()
        process.wait(10)


def _first_answer(address: str, start: float) -> float:
    body = next(changing_coffees())
    while time.perf_counter() - start < 30:
        try:
            answer = httpx.post(address + PATH, content=body, headers=JSON, timeout=30)
            assert len(answer.json()["pairings"]["base"]) == 10
            return time.perf_counter() - start
        except httpx.TransportError:
            time.sleep(0.01)
    raise TimeoutError("no answer within 30 s")


def _used(pid: int) -> tuple[float, float]:
    """Processor seconds and resident MiB of a process so far; not a number off Linux."""
    if not Path("/proc").exists():
        return float("nan"), float("nan")
    ticks = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[11:13]
    held = Path(f"/proc/{pid}/statm").read_text().split()[1]
    return (
        sum(map(int, ticks)) / os.sysconf("SC_CLK_TCK"),
        int(held) * os.sysconf("SC_PAGE_SIZE") / 2**20,
    )


async def _throughput(address: str, bodies: Iterator[bytes]) -> float:
    """Requests per second over all connections."""
    async with httpx.AsyncClient(base_url=address, timeout=60) as client:

        async def one_connection(count: int) -> None:
            for _ in range(count):
                answer = await client.post(PATH, content=next(bodies), headers=JSON)
                answer.raise_for_status()

        await one_connection(3)
        start = time.perf_counter()
        await asyncio.gather(*(one_connection(REQUESTS // CONNECTIONS) for _ in range(CONNECTIONS)))
        return REQUESTS / (time.perf_counter() - start)


def warm_answer_ms() -> float:
    """Median time of one full answer (three roles of ten, with balance) in the process."""
    from service.counter.coffees import Coffee
    from service.counter.known import load_known
    from service.counter.pairings_json import pairings_json
    from service.counter.suggest import Question, pairings

    known = load_known()
    times = []
    for body in itertools.islice(changing_coffees(), 200):
        start = time.perf_counter()
        question = Question(Coffee(notes=json.loads(body)["coffee"]["notes"]))
        orjson.dumps(pairings_json(known, pairings(known, question)))
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times[100:])


def main() -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        with serving("service.web.app:create_app", factory=True, folder=folder) as ours:
            repeated = next(changing_coffees())
            body = httpx.post(ours.address + PATH, content=repeated, headers=JSON).content
            same = asyncio.run(_throughput(ours.address, itertools.repeat(repeated)))
            changing = asyncio.run(_throughput(ours.address, changing_coffees()))
        Path(folder, "body.json").write_bytes(body)
        Path(folder, "empty_app.py").write_text(EMPTY.format(path=f"{folder}/body.json"))
        with serving("empty_app:app", factory=False, folder=folder) as empty:
            bare = asyncio.run(_throughput(empty.address, itertools.repeat(repeated)))
    times, again, anew = ours.seconds / empty.seconds, same / bare, changing / bare
    print(f"answer of {len(body) // 1024} KiB: three roles of ten, each with balance")
    print(f"start to first correct answer   {ours.seconds:6.2f} s   ({times:.1f} x empty app)")
    print(f"  of the processor              {ours.cpu_seconds:6.2f} s")
    print(f"  resident memory by then       {ours.resident_mib:6.0f} MiB")
    print(f"one full answer, warm           {warm_answer_ms():6.1f} ms")
    print(f"repeated coffee, 16 connections {same:6.0f} /s  ({again:.2f} of empty app)")
    print(f"changing coffees                {changing:6.0f} /s  ({anew:.2f} of empty app)")


if __name__ == "__main__":
    main()
