#!/usr/bin/env python3
"""Runs a notebook's code from top to bottom, without Jupyter: run.py NOTEBOOK"""
import json
import os
import pathlib
import sys

book = pathlib.Path(sys.argv[1]).resolve()
cells = [cell for cell in json.loads(book.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == "code"]
os.chdir(book.parent)
names: dict = {"__name__": "__main__"}
for number, cell in enumerate(cells, 1):
    exec(compile("".join(cell["source"]), f"{book.name}, code {number}", "exec"), names)
print(f"{len(cells)} pieces of code worked")
