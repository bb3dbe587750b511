#!/usr/bin/env python3
"""What the compiler cannot say of the walls between rooms.

    rooms.py SOURCE_DIR ROOMS_FILE

ROOMS_FILE, made by cmake/house.cmake, has a line "room: seen seen ..." for each room. Wrong are: a room that is seen and not
needed, an include round the walls (".."), and a header in include/ that nothing outside its own room ever includes.
"""
import pathlib
import re
import sys

source, rooms_file = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
sees = {}
for line in rooms_file.read_text().splitlines():
    room, _, seen = line.partition(":")
    sees[room] = seen.split()

INCLUDE = re.compile(r'^\s*#\s*include\s*["<]([^">]+)[">]', re.M)
wrong = []


def includes(file):
    return INCLUDE.findall(file.read_text())


def room_of(header):
    return header.split("/")[1]


def code(*folders):
    return [f for folder in folders for f in sorted((source / folder).rglob("*")) if f.suffix in (".cpp", ".hpp")]


public = {f"skerry/{room}/{f.name}": f for room in sees for f in code(f"include/skerry/{room}")}
public_includes = {name: [i for i in includes(f) if i in public] for name, f in public.items()}


def reached(headers):
    """These public headers and all they include."""
    out, todo = set(), [h for h in headers if h in public]
    while todo:
        header = todo.pop()
        if header not in out:
            out.add(header)
            todo += public_includes[header]
    return out


wanted = set()  # public headers that somebody outside their room includes
for room, seen in sees.items():
    direct = set()
    for file in code(f"src/{room}", f"include/skerry/{room}"):
        direct.update(includes(file))
        wrong += [f"{file.relative_to(source)} includes {i}: round the walls" for i in includes(file) if ".." in i]
    needed = {room_of(h) for h in reached(direct)}
    wrong += [f"{room} sees {other} and needs nothing of it" for other in seen if other not in needed | {"core"}]
    wanted |= {h for h in direct if h in public and room_of(h) != room}
for file in code("examples", "src/python", "tests/fuzz", "tests/bench") + [source / "src/main.cpp"]:
    wanted |= {i for i in includes(file) if i in public}
wanted = reached(wanted)
wrong += [f"include/{name}: only its own room includes it, so it belongs in src/" for name in public if name not in wanted]

print("\n".join(wrong) or f"{len(sees)} rooms, {sum(map(len, sees.values()))} edges, all needed")
sys.exit(bool(wrong))
