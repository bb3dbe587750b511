#!/usr/bin/env python3
"""Longest cylinder in a box by search over directions: no formula in common with the program but the width of a cylinder.

A grid of 300 x 300 directions, then random steps that shrink to 1e-13. Printed to 0.001 cm; the rows stand in rules_test.cpp.
Taken 2026-11-25 with Python 3.11.
"""
import math
import random


def longest(sides, d):
    rnd = random.Random(1)

    def at(a, b):
        u = (math.sin(a) * math.cos(b), math.sin(a) * math.sin(b), math.cos(a))
        return min((s - d * math.sqrt(max(0, 1 - x * x))) / max(x, 1e-12) for s, x in zip(sides, u))

    grid = [i * math.pi / 600 for i in range(1, 300)]
    best = max((at(a, b), a, b) for a in grid for b in grid)
    step = 0.01
    while step > 1e-13:
        better = False
        for _ in range(400):
            a, b = best[1] + rnd.gauss(0, step), best[2] + rnd.gauss(0, step)
            if (v := at(a, b)) > best[0]:
                best, better = (v, a, b), True
        step *= 0.9 if better else 0.5
    return best[0]


for box in [(55, 40, 23), (55, 40, 20), (56, 45, 25), (40, 30, 20), (75, 50, 33)]:
    print(box, [round(longest(box, d), 3) for d in (2, 3, 4, 4.7, 6)])
