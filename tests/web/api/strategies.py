"""Request bodies drawn from the schemas of the OpenAPI document, and bodies that break them."""

from __future__ import annotations

import copy
from functools import cache
from typing import Any, Final

from hypothesis import strategies as st

from service.ingredients.records import Role

Schema = dict[str, Any]


class Schemas(dict[str, Schema]):
    """The schemas that others refer to. Not spelled out whenever a strategy is named."""

    def __repr__(self) -> str:
        return "the document's"


LONGEST_LIST: Final = 5
BEYOND: Final = 1e12
# Words that mean something somewhere, so that not every drawn text is unknown.
WORDS: Final = (
    "bourbon", "armagnac", "aged-rhum-agricole", "fig-liqueur", "amontillado sherry", "saline",
    "aromatic-bitters", "demerara-syrup", "lemon-peel", "coffee-dark-washed-canephora", "water",
    "1 oz", "45 ml", "2 dashes", "1/4 oz", "0 ml", "-3 oz", "1e308 ml", "½ oz", "one",
    "dried fig, red plum, no smoke", "burnt sugar", "IE", "GB", "WHO", *Role,
)  # fmt: skip
ODD_TEXTS: Final = (
    "", " ", "\x00", "\ud800", "٣ oz", "İ", "ﬁg", "a\u0301" * 50, "\u202eoz", "null", "NaN",
    "'; --", "../../etc", "%00", "{{7*7}}", "<b>", "🍸" * 40, "x" * 3000, "=1+1", "\r\n",
    "0x10", "1_000",
)  # fmt: skip
ODD_NUMBERS: Final = (
    0, -0.0, -1, 1, 0.1, 1e-300, 1e-9, 1e300, -1e300, 2**63, -(2**63), 10**400, 1e16, True,
)  # fmt: skip


def odd_texts() -> st.SearchStrategy[str]:
    """By number, so that what is drawn from is not spelled out whenever a strategy is named."""
    return st.integers(0, len(ODD_TEXTS) - 1).map(ODD_TEXTS.__getitem__)


def odd_numbers() -> st.SearchStrategy[float]:
    return st.integers(0, len(ODD_NUMBERS) - 1).map(ODD_NUMBERS.__getitem__)


def texts(most: int = 60, least: int = 0) -> st.SearchStrategy[str]:
    drawn = st.text(min_size=least, max_size=min(most, 60))
    known = [word for word in WORDS if least <= len(word) <= most]
    return st.one_of(st.sampled_from(known), st.sampled_from(known), drawn) if known else drawn


@cache
def anything() -> st.SearchStrategy[Any]:
    """Any JSON at all, odd texts and numbers before others."""
    leaves = st.one_of(
        st.none(), st.booleans(), odd_numbers(), odd_texts(),
        st.integers(), st.floats(allow_nan=False, allow_infinity=False), texts(),
    )  # fmt: skip
    return st.recursive(
        leaves,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts(), inner, max_size=4),
        max_leaves=8,
    )


def bodies(schema: Schema, schemas: Schemas) -> st.SearchStrategy[Any]:
    """JSON that a schema allows; what the service refuses beyond its schema is among it."""
    if reference := schema.get("$ref"):
        return bodies(schemas[reference.rsplit("/", 1)[-1]], schemas)
    if alternatives := schema.get("anyOf", schema.get("oneOf")):
        return st.one_of(*(bodies(one, schemas) for one in alternatives))
    if "const" in schema:
        return st.just(schema["const"])
    if "enum" in schema:
        return st.sampled_from(schema["enum"])
    match schema.get("type"):
        case "object":
            return _objects(schema, schemas)
        case "array":
            most = min(schema.get("maxItems", LONGEST_LIST), LONGEST_LIST)
            items = bodies(schema.get("items", {}), schemas)
            return st.lists(items, min_size=schema.get("minItems", 0), max_size=most)
        case "string":
            return texts(schema.get("maxLength", 60), schema.get("minLength", 0))
        case "number":
            return _numbers(schema)
        case "integer":
            low, high = schema.get("minimum", -(10**9)), schema.get("maximum", 10**9)
            return st.integers(int(low), int(high))
        case "boolean":
            return st.booleans()
        case "null":
            return st.none()
    return anything()


def _numbers(schema: Schema) -> st.SearchStrategy[float]:
    low = schema.get("minimum", schema.get("exclusiveMinimum", -BEYOND))
    high = schema.get("maximum", schema.get("exclusiveMaximum", BEYOND))
    usual = (
        st.floats(max(low, 0.5), min(high, 60.0)) if high >= 0.5 and low <= 60.0 else st.nothing()
    )
    whole = st.floats(
        low, high,
        exclude_min="exclusiveMinimum" in schema, exclude_max="exclusiveMaximum" in schema,
    )  # fmt: skip
    return st.one_of(usual, whole)


def _objects(schema: Schema, schemas: Schemas) -> st.SearchStrategy[dict[str, Any]]:
    if isinstance(more := schema.get("additionalProperties"), dict):
        names = bodies({"type": "string", **schema.get("propertyNames", {})}, schemas)
        return st.dictionaries(names, bodies(more, schemas), max_size=3)
    parts = {name: bodies(part, schemas) for name, part in schema.get("properties", {}).items()}
    needed = set(schema.get("required", []))
    return st.fixed_dictionaries(
        {name: part for name, part in parts.items() if name in needed},
        optional={name: part for name, part in parts.items() if name not in needed},
    )


@st.composite
def near(draw: st.DrawFn, sample: Any, schema: Schema, schemas: Schemas) -> Any:
    """A body of the schema, most of whose fields come from one that is known to be answered."""
    drawn = draw(bodies(schema, schemas))
    if not isinstance(sample, dict) or not isinstance(drawn, dict):
        return drawn
    taken = {name for name in sorted(drawn) if draw(st.integers(0, 3)) == 0}
    return {**sample, **{name: drawn[name] for name in taken}}


@st.composite
def spoiled(draw: st.DrawFn, sample: Any, schema: Schema, schemas: Schemas) -> Any:
    """A body with one of its parts replaced by anything, or a field too many."""
    body = copy.deepcopy(draw(st.one_of(st.just(sample), bodies(schema, schemas))))
    places = list(_places(body))
    if not places or draw(st.integers(0, 9)) == 0:
        return draw(anything())
    parent, key = draw(st.sampled_from(places))
    if isinstance(parent, dict) and draw(st.booleans()):
        parent[draw(texts())] = draw(anything())
    else:
        parent[key] = draw(anything())
    return body


def _places(value: Any) -> list[tuple[Any, Any]]:
    keys = (
        value.keys()
        if isinstance(value, dict)
        else range(len(value))
        if isinstance(value, list)
        else ()
    )
    return [place for key in keys for place in ((value, key), *_places(value[key]))]
