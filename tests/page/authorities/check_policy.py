#!/usr/bin/env python3
"""The hashes in a page's Content-Security-Policy are those of its two blocks, by Python's hashlib, and nothing else may run.

Run by ctest (authorities: policy); by hand: tests/page/authorities/check_policy.py build/release/skerry
Source: W3C CSP Level 3, section 2.3.1; FIPS 180-4; RFC 4648.
"""
import base64
import hashlib
import pathlib
import re
import subprocess
import sys
import tempfile

program = sys.argv[1]
root = pathlib.Path(__file__).resolve().parents[3]
problems = 0
with tempfile.TemporaryDirectory() as folder:
    page = pathlib.Path(folder) / "page.html"
    for asked in (["report", str(root / "examples" / "rodrigues.toml")], ["page"]):
        said = subprocess.run([program, *asked, "-o", str(page)], capture_output=True, text=True)
        if asked == ["page"] and "engine" in said.stderr:
            print("the empty page is not looked at: the program carries no engine for it")
            continue
        said.check_returncode()
        html = page.read_bytes()
        policy = re.search(rb'Content-Security-Policy" content="([^"]*)"', html).group(1).decode()
        for tag, rule in (("style", "style-src"), ("script", "script-src")):
            blocks = re.findall(rb"<%s>(.*?)</%s>" % (tag.encode(), tag.encode()), html, re.S)
            wanted = ["'sha256-" + base64.b64encode(hashlib.sha256(b).digest()).decode() + "'" for b in blocks]
            told = next(part.split()[1:] for part in policy.split("; ") if part.startswith(rule))
            if len(blocks) != 1 or [word for word in told if word != "'wasm-unsafe-eval'"] != wanted:
                problems += 1
                print("WRONG:", asked[0], rule, told, "instead of", wanted)
print(f"{problems} problems")
sys.exit(1 if problems else 0)
