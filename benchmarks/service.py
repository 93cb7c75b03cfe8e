"""How fast the service answers, as ratios to an empty FastAPI application in the same run.

    python -m benchmarks.service

Prints: start to first correct answer; one full answer warm in the process; throughput for one
repeated coffee and for changing coffees over 16 connections on loopback.
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


@contextmanager
def serving(app: str, *, factory: bool, folder: str) -> Iterator[tuple[str, float]]:
    """A server in a process of its own: its address, and the seconds to its first answer."""
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
        yield address, _first_answer(address, start)
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
    from pathlib import Path

    with tempfile.TemporaryDirectory() as folder:
        with serving("service.web.app:create_app", factory=True, folder=folder) as (address, start):
            repeated = next(changing_coffees())
            body = httpx.post(address + PATH, content=repeated, headers=JSON).content
            same = asyncio.run(_throughput(address, itertools.repeat(repeated)))
            changing = asyncio.run(_throughput(address, changing_coffees()))
        Path(folder, "body.json").write_bytes(body)
        Path(folder, "empty_app.py").write_text(EMPTY.format(path=f"{folder}/body.json"))
        with serving("empty_app:app", factory=False, folder=folder) as (address, empty_start):
            empty = asyncio.run(_throughput(address, itertools.repeat(repeated)))
    print(f"answer of {len(body) // 1024} KiB: three roles of ten, each with balance")
    print(
        f"start to first correct answer   {start:6.2f} s   ({start / empty_start:.1f} x empty app)"
    )
    print(f"one full answer, warm           {warm_answer_ms():6.1f} ms")
    print(f"repeated coffee, 16 connections {same:6.0f} /s  ({same / empty:.2f} of empty app)")
    print(
        f"changing coffees                {changing:6.0f} /s  ({changing / empty:.2f} of empty app)"
    )


if __name__ == "__main__":
    main()
