#!/usr/bin/env python3
"""Packs a WebAssembly module for a page: its code by LZMA, a third smaller than by gzip; what else it has, its data above all,
as it is, for gzip.  src/wasm/unpack.js puts it together again.

Usage: pack_module.py MODULE.wasm OUTPUT

Output, numbers little-endian: u32 where the code stands in the module, u32 its bytes, u32 its bytes packed; the packed code (raw
LZMA1, lc 4, lp 0, pb 0, with an end of its own); all bytes before the code and all after it.
"""
import lzma
import pathlib
import struct
import sys

CODE = 10  # section of the binary format, WebAssembly Core Specification, 5.5.13


def number(module, at):
    value = shift = 0
    while True:
        byte = module[at]
        at += 1
        value |= (byte & 127) << shift
        shift += 7
        if byte < 128:
            return value, at


module = pathlib.Path(sys.argv[1]).read_bytes()
at = 8
while module[at] != CODE:
    size, begin = number(module, at + 1)
    at = begin + size
size, begin = number(module, at + 1)
packed = lzma.compress(module[begin:begin + size], format=lzma.FORMAT_RAW, filters=[
    {"id": lzma.FILTER_LZMA1, "preset": 9 | lzma.PRESET_EXTREME, "lc": 4, "lp": 0, "pb": 0, "dict_size": 1 << 23}])
pathlib.Path(sys.argv[2]).write_bytes(struct.pack("<III", begin, size, len(packed)) + packed + module[:begin] + module[begin + size:])
