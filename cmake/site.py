#!/usr/bin/env python3
"""Makes a small site of what exists: README, documents, manual pages, the API's pages, and the tool for a browser where the program
carries an engine. Nothing is fetched from elsewhere when it is read; a link that leads nowhere is an error.

Usage: site.py <program> <folder of manual pages> <folder of the API's pages> <output folder>
Debian packages: python3-markdown, mandoc.
"""
import html
import pathlib
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser

import markdown

program, papers, api, out = map(pathlib.Path, sys.argv[1:])
root = pathlib.Path(__file__).resolve().parents[1]
STYLE = """:root{color-scheme:light dark}body{font:1rem/1.5 system-ui,sans-serif;max-width:50rem;margin:0 auto;padding:0 1rem 3rem}
nav{padding:.6rem 0;border-bottom:1px solid}nav a{margin-right:1rem}pre,table{display:block;overflow-x:auto}img{max-width:100%;height:auto}
pre{padding:.6rem;border:1px solid #8888}td,th{border:1px solid #8888;padding:.1rem .5rem;text-align:left;vertical-align:top}
table{border-collapse:collapse}code,pre{font-size:.9rem}dd{margin-left:2rem}
.permalink{color:inherit;text-decoration:none}h1{font-size:1.6rem}.head,.foot{font-size:.8rem}.head td,.foot td{border:0}"""


def page(path, title, body):
    """One page at this path below the site, its bar of links with it."""
    up = "../" * (len(path.parts) - 1)
    places = [("index.html", "Skerry"), ("manual/index.html", "Manual"), ("docs/index.html", "Documents"), ("api/index.html", "API")]
    if (out / "tool").exists():
        places.append(("tool/index.html", "In the browser"))
    bar = " ".join(f'<a href="{up}{place}">{name}</a>' for place, name in places)
    (out / path).parent.mkdir(parents=True, exist_ok=True)
    (out / path).write_text(
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n<style>{STYLE}</style></head>\n'
        f"<body><nav>{bar}</nav>\n{body}\n</body></html>\n", encoding="utf-8")


def written(source):
    """A document's place on the site."""
    path = source.relative_to(root)
    return pathlib.Path("index.html") if str(path) == "README.md" else path.with_suffix(".html")


def document(source):
    plain = source.read_text(encoding="utf-8")
    text = markdown.markdown(plain, extensions=["tables", "fenced_code", "toc", "sane_lists"])
    here = source.parent

    def mended(link):
        target, _, mark = link[2].partition("#")
        to = (here / target).resolve()
        if not target.endswith(".md") or not to.is_relative_to(root):
            return link[0]
        up = "../" * (len(written(source).parts) - 1)
        return f'{link[1]}="{up}{written(to).as_posix()}{"#" + mark if mark else ""}"'

    found = re.search(r"^# (.*)", plain, re.M)
    title = found[1] if found else source.stem
    page(written(source), title, re.sub(r'(href|src)="([^"]*)"', mended, text))
    return title


class Links(HTMLParser):
    """What a page leads to, and the names that it has."""

    def __init__(self, file):
        super().__init__()
        self.to, self.names = [], set()
        self.feed(file.read_text(encoding="utf-8"))

    def handle_starttag(self, tag, attrs):
        for key, value in attrs:
            if key in ("id", "name") and value:
                self.names.add(value)
            if key in ("href", "src") and value:
                self.to.append((tag, value))


shutil.rmtree(out, ignore_errors=True)
out.mkdir(parents=True)
shutil.copytree(api, out / "api")
shutil.copytree(root / "docs" / "pictures", out / "docs" / "pictures")
shutil.copytree(root / "docs" / "schemas", out / "docs" / "schemas")
shutil.copytree(root / "examples", out / "examples", ignore=shutil.ignore_patterns("*.md", "__pycache__"))
tool = subprocess.run([program, "page", "--folder", out / "tool"], capture_output=True, text=True)
if tool.returncode:
    shutil.rmtree(out / "tool", ignore_errors=True)
    print("site: without the tool for a browser:", tool.stderr.strip())

titles = {source: document(source) for source in
          [root / "README.md", root / "CHANGELOG.md", root / "DEVELOPERS.md", *sorted((root / "docs").glob("*.md")),
           *sorted((root / "examples").glob("*/*.md"))]}
listed = "".join(f'<li><a href="../{written(source).as_posix()}">{html.escape(title)}</a></li>\n' for source, title in titles.items()) + "".join(
    f'<li><a href="schemas/{s.name}">{s.name}</a></li>\n' for s in sorted((root / "docs" / "schemas").glob("*.json")))
page(pathlib.Path("docs/index.html"), "Documents", f"<h1>Documents</h1>\n<ul>\n{listed}</ul>")

rows = ""
for manual in sorted([*papers.glob("man1/*.1"), *papers.glob("man5/*.5")]):
    made = subprocess.run(["mandoc", "-T", "html", "-O", "fragment,man=%N.%S.html", manual], check=True, capture_output=True, text=True).stdout
    page(pathlib.Path("manual") / f"{manual.name}.html", manual.stem, made)
    says = re.search(r"\.SH NAME\n.*? \\- (.*)", manual.read_text(encoding="utf-8"))
    rows += f'<li><a href="{manual.name}.html">{manual.stem} ({manual.suffix[1:]})</a> {html.escape(says[1].replace(chr(92), "")) if says else ""}</li>\n'
page(pathlib.Path("manual/index.html"), "Manual", f"<h1>Manual</h1>\n<ul>\n{rows}</ul>")

# Every link of our own pages must lead to something that is here.
problems, pages = 0, {file: Links(file) for file in out.rglob("*.html") if file.relative_to(out).parts[0] not in ("api", "tool")}
for file, links in pages.items():
    for tag, to in links.to:
        target, _, mark = to.partition("#")
        there = (file.parent / target).resolve() if target else file
        outside = re.match(r"[a-z]+:", to)
        bad = (tag != "a" if outside else not there.exists() or (mark and there in pages and mark not in pages[there].names))
        if bad:
            problems += 1
            print(f"site: {file.relative_to(out)}: leads nowhere, or fetches from elsewhere: {to}", file=sys.stderr)
print(f"site: {len(pages)} pages and the API's in {out}, {problems} links that lead nowhere")
sys.exit(1 if problems else 0)
