#!/usr/bin/env python3
"""Lets a build's compiler read every source without making anything of it: does it compile there?

Usage: read_only.py <build folder> [TARGET...]   (all targets, or these)
"""
import json
import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

folder, *targets = sys.argv[1:]


def read(entry):
    command = re.sub(r" -o \S+", "", entry["command"])
    command = re.sub(r"^\S*ccache ", "", command).replace(" -c ", " -fsyntax-only ")
    done = subprocess.run(command, shell=True, cwd=entry["directory"], capture_output=True, text=True)
    return "" if done.returncode == 0 else done.stderr or f"{entry['file']}: the compiler gave up with {done.returncode}\n"


with open(os.path.join(folder, "compile_commands.json")) as file:
    sources = [entry for entry in json.load(file) if entry["file"].endswith(("cpp", "cxx"))
               and (not targets or any(f"/{target}.dir/" in entry["command"] for target in targets))]
with ThreadPoolExecutor(os.cpu_count()) as pool:
    said = [words for words in pool.map(read, sources) if words]
sys.stderr.writelines(said)
print(f"{len(sources)} sources read in {folder}, {len(said)} of them with errors")
sys.exit(1 if said or not sources else 0)
