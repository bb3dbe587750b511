#!/usr/bin/env python3
"""Writes what the answers look like as Python types, from the JSON Schemas.

    answers.py SCHEMA_DIR OUT.py
"""
import json
import keyword
import pathlib
import sys

PLAIN = {"string": "str", "number": "float", "integer": "int", "boolean": "bool", "null": "None"}


def camel(key):
    return "".join(part[:1].upper() + part[1:] for part in key.replace("-", "_").split("_"))


class Writer:
    def __init__(self):
        self.out = []

    def type_of(self, schema, name):
        """The type of a value; an object's is written under `name`, before whatever holds it."""
        if "const" in schema or "enum" in schema:
            values = schema.get("enum", [schema.get("const")])
            return "Literal[" + ", ".join(map(repr, values)) + "]"
        kinds = schema.get("type", [])
        kinds = [kinds] if isinstance(kinds, str) else kinds
        if not kinds:
            return "Any"
        return " | ".join(self.kind_of(kind, schema, name) for kind in sorted(kinds, key=lambda k: k == "null"))

    def kind_of(self, kind, schema, name):
        if kind == "array":
            return "list[" + self.type_of(schema.get("items", {}), name) + "]"
        if kind == "object":
            return self.object_of(schema, name) if "properties" in schema else "dict[str, Any]"
        return PLAIN[kind]

    def object_of(self, schema, name):
        needed = set(schema.get("required", []))
        rows, told = [], []
        for key, value in schema["properties"].items():
            kind = self.type_of(value, name + camel(key))
            rows.append((key, kind if key in needed else f"NotRequired[{kind}]"))
            if "description" in value:
                told.append(f"    {key}: {value['description']}")
        about = [f'    """{schema.get("title", "Part of an answer")}.' + ("\n" if told else '"""')]
        about += told + (['    """'] if told else [])
        if any(keyword.iskeyword(key) or not key.isidentifier() for key, _ in rows):
            pairs = ", ".join(f'"{key}": {kind}' for key, kind in rows)
            self.out.append(f'{name} = TypedDict("{name}", {{{pairs}}})\n"""' + "\n".join(about).strip().strip('"') + '"""')
        else:
            lines = [f"    {key}: {kind}" for key, kind in rows]
            self.out.append("\n".join([f"class {name}(TypedDict):"] + about + lines))
        return name


def written(folder):
    writer = Writer()
    for file in sorted(pathlib.Path(folder).glob("*.json")):
        if file.stem != "trip" and not file.stem.endswith("-file"):  # what is asked, not an answer
            writer.object_of(json.loads(file.read_text(encoding="utf-8")), camel(file.stem))
    head = '"""The answers as types. Made from docs/schemas by src/python/answers.py."""\n'
    head += "from typing import Any, Literal, TypedDict\n\n"
    head += "try:\n    from typing import NotRequired\nexcept ImportError:  # before Python 3.11 only a type checker knows it\n"
    head += "    from typing import Optional as NotRequired\n"
    return head + "\n\n" + "\n\n\n".join(writer.out) + "\n"


if __name__ == "__main__":
    pathlib.Path(sys.argv[2]).write_text(written(sys.argv[1]), encoding="utf-8")
