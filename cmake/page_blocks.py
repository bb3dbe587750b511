#!/usr/bin/env python3
"""Joins the page's style and script, in the order in which each sees those before it, and says the hash by which its
Content-Security-Policy lets each of the two blocks run (W3C CSP Level 3, section 2.3.1).

Usage: page_blocks.py <folder src/page/assets> <output folder>
"""
import base64
import hashlib
import pathlib
import sys

STYLE = ["picture", "rays", "page", "report", "days"]
SCRIPT = ["basics", "cells", "engine", "rays", "beam", "start"]

assets, out = map(pathlib.Path, sys.argv[1:])
out.mkdir(parents=True, exist_ok=True)


def joined(names):
    return b"".join((assets / name).read_bytes() for name in names)


for name, block in (
    ("style", b"\n" + joined(f"{n}.css" for n in STYLE)),
    ("script", b"\n'use strict';(() => {\n" + joined(f"page_{n}.js" for n in SCRIPT) + b"})();\n"),
):
    (out / name).write_bytes(block)
    (out / f"{name}_hash").write_text("sha256-" + base64.b64encode(hashlib.sha256(block).digest()).decode())
