"""The physics rooms say unit, range, source and example of every public function."""

from __future__ import annotations

import doctest
import importlib
import inspect
import re
from collections.abc import Callable
from types import FunctionType

import pytest

ROOMS = ("liquid", "bed", "taste")
# An annotation that names a number asks for a unit; records, words and flags need none.
NUMERIC = re.compile(r"float|Numbers|NDArray|Interval|\bint\b|Array|Draws")
UNIT = re.compile(r"\[[^\]\n]+\]|\bnone\b|\bdimensionless\b", re.IGNORECASE)
NO_QUANTITY = {"seed"}
SOURCE = re.compile(r"\bSource\b|\bour estimate, because\b", re.IGNORECASE)


def public_functions() -> list[tuple[str, FunctionType]]:
    """Every function that a room names in `__all__`, found by looking, not by a list."""
    found = []
    for room in ROOMS:
        module = importlib.import_module(f"service.{room}")
        for name in getattr(module, "__all__", ()):
            thing = getattr(module, name)
            if inspect.isfunction(thing):
                found.append((f"{room}.{name}", thing))
    return found


FUNCTIONS = public_functions()
every_function = pytest.mark.parametrize(
    "function", [f for _, f in FUNCTIONS], ids=[name for name, _ in FUNCTIONS]
)


def text_of(function: Callable[..., object]) -> str:
    return inspect.getdoc(function) or ""


def parameter_text(function: Callable[..., object], name: str) -> str:
    """The lines of one parameter: its own, and those indented below it."""
    pattern = rf"^{re.escape(name)} : .*(?:\n[ \t]+\S.*)*"
    match = re.search(pattern, text_of(function), re.MULTILINE)
    return match.group(0) if match else ""


def missing(function: Callable[..., object]) -> list[str]:
    """What a docstring leaves out, in words."""
    text, gaps = text_of(function), []
    if not text.split("\n\n")[0].strip():
        gaps.append("a summary")
    if "Valid for" not in text:
        gaps.append("Valid for")
    if not SOURCE.search(text):
        gaps.append("Source")
    if not doctest.DocTestParser().get_examples(text):
        gaps.append("an example that runs")
    for parameter in inspect.signature(function).parameters.values():
        told = parameter_text(function, parameter.name)
        if not told:
            gaps.append(f"`{parameter.name} : type`")
        elif (
            parameter.name not in NO_QUANTITY
            and NUMERIC.search(str(parameter.annotation))
            and not UNIT.search(told)
        ):
            gaps.append(f"unit of `{parameter.name}`")
    return gaps


def test_the_three_rooms_have_public_functions() -> None:
    rooms = {name.split(".")[0] for name, _ in FUNCTIONS}
    assert rooms == set(ROOMS)
    assert sum(name.startswith("liquid.") for name, _ in FUNCTIONS) >= 30


@every_function
def test_the_docstring_says_unit_range_source_and_example(function: FunctionType) -> None:
    assert missing(function) == []


@every_function
def test_the_summary_of_a_number_names_its_unit(function: FunctionType) -> None:
    returns = str(function.__annotations__.get("return", ""))
    if returns in {"float", "Numbers"} or "NDArray" in returns:
        summary = text_of(function).split("\n\n")[0]
        assert UNIT.search(summary), summary


@every_function
def test_the_docstring_names_no_parameter_that_is_gone(function: FunctionType) -> None:
    section = re.search(
        r"^Parameters\n-+\n(.*?)(?=\n\n|\Z)", text_of(function), re.MULTILINE | re.DOTALL
    )
    named = set(re.findall(r"^(\w+) : ", section.group(1), re.MULTILINE)) if section else set()
    assert named == set(inspect.signature(function).parameters)


def test_a_bare_docstring_is_found_out() -> None:
    def bare(volume_ml: float) -> float:
        """Twice."""
        return 2 * volume_ml

    assert missing(bare) == ["Valid for", "Source", "an example that runs", "`volume_ml : type`"]


def test_a_parameter_without_its_unit_is_found_out() -> None:
    def half(volume_ml: float) -> float:
        """Half of a volume [mL].

        Parameters
        ----------
        volume_ml : float
            Volume

        Valid for: any. Source: arithmetic.

        >>> 1
        1
        """
        return volume_ml / 2

    assert missing(half) == ["unit of `volume_ml`"]
