"""A PostgreSQL server for the tests, out of the wheel `pgserver`: nothing has to be installed.

Only the programs of the wheel are used. PostgreSQL refuses to run as root, so as root it is run as
`nobody`, in a folder of its own, and from a copy where `nobody` may not look into the environment.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

UNPRIVILEGED = "nobody"
SHORT_PATH = Path("/tmp")  # a socket's path has to stay under about a hundred characters


class NoServer(Exception):
    """PostgreSQL could not be started; the message says why."""


@contextmanager
def running_server() -> Iterator[str]:
    """The URL of a running server, without a database name at its end."""
    home = Path(
        tempfile.mkdtemp(prefix="marc-pg-", dir=SHORT_PATH if SHORT_PATH.is_dir() else None)
    )
    try:
        user = pwd.getpwnam(UNPRIVILEGED) if os.geteuid() == 0 else None
        if user is not None:
            os.chown(home, user.pw_uid, user.pw_gid)
        programs = _programs(home, user)
        data = home / "data"
        _run([programs / "initdb", "-D", data, "-U", "marc", "--auth=trust", "--encoding=UTF8",
              "--no-locale", "--no-sync"], home, user)  # fmt: skip
        # Nothing in the tests cuts the power, so nothing needs to reach the disk; commits are
        # acknowledged only when they are made all the same.
        options = f"-c listen_addresses='' -c fsync=off -c max_connections=200 -k {home}"
        pg_ctl = [programs / "pg_ctl", "-D", data, "-w"]
        _run([*pg_ctl, "-l", home / "log", "-o", options, "start"], home, user)
        try:
            yield f"postgresql://marc@/NAME?host={home}"
        finally:
            _run([*pg_ctl, "-m", "immediate", "stop"], home, user)
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _programs(home: Path, user: pwd.struct_passwd | None) -> Path:
    found = find_spec("pgserver")  # found, not imported: the module itself wants to manage users
    if found is None or found.origin is None:
        raise NoServer("the wheel pgserver is not installed")
    package = Path(found.origin).parent
    programs = package / "pginstall" / "bin"
    try:
        _run([programs / "initdb", "--version"], home, user)
    except NoServer:
        copied = home / "programs" / package.name
        shutil.copytree(package, copied)
        libraries = package.with_name("pgserver.libs")
        if libraries.is_dir():
            shutil.copytree(libraries, copied.with_name(libraries.name))
        programs = copied / "pginstall" / "bin"
    return programs


def _run(command: list[str | Path], home: Path, user: pwd.struct_passwd | None) -> None:
    """Run one of the programs to its end. The log goes to a file: a pipe would stay open."""
    log = home / f"{Path(command[0]).name}.log"
    with log.open("w") as out:
        if user is None:
            owner: dict[str, object] = {}
        else:
            owner = {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}
        try:
            done = subprocess.run(
                command, cwd=home, stdout=out, stderr=subprocess.STDOUT, check=False, **owner
            )
        except OSError as error:
            raise NoServer(f"{command[0]} cannot be run: {error}") from None
    if done.returncode != 0:
        raise NoServer(f"{Path(command[0]).name} failed: {log.read_text()[-500:]}")
