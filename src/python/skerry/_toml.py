"""A trip as a dictionary, written as the TOML that the engine reads."""
from __future__ import annotations

import datetime
import json
import math
from collections.abc import Mapping, Sequence
from typing import Any


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items() if v is not None) + "}"
    if isinstance(value, Sequence):
        return "[" + ", ".join(map(_value, value)) + "]"
    if hasattr(value, "item"):  # numpy's numbers
        value = value.item()
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float) and math.isfinite(value):
        return repr(value)
    raise TypeError(f"a trip cannot hold {value!r}")


def _key(key: str) -> str:
    plain = key.isascii() and key.replace("_", "").replace("-", "").isalnum()
    return key if plain else json.dumps(key, ensure_ascii=False)


def dumps(trip: Mapping[str, Any]) -> str:
    """TOML of a trip; a list of dictionaries under a key is written as [[key]] tables, None is left out."""
    loose, tables = [], []
    for key, value in trip.items():
        if isinstance(value, Mapping):
            tables.append((f"[{_key(key)}]", value))
        elif isinstance(value, Sequence) and value and all(isinstance(one, Mapping) for one in value):
            tables += [(f"[[{_key(key)}]]", one) for one in value]
        elif value is not None:
            loose.append(f"{_key(key)} = {_value(value)}\n")
    for head, table in tables:
        rows = (f"{_key(k)} = {_value(v)}\n" for k, v in table.items() if v is not None)
        loose.append(f"\n{head}\n" + "".join(rows))
    return "".join(loose)
