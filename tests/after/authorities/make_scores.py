#!/usr/bin/env python3
"""Makes scores.csv: forecasts and outcomes with the Brier score and ROC area that an independent library (PyPI: scikit-learn) finds.

Development time only:  pip install scikit-learn && python3 make_scores.py > scores.csv
"""
import random

import sklearn
from sklearn.metrics import brier_score_loss, roc_auc_score

random.seed(12)
print(f"# scikit-learn {sklearn.__version__}, made by make_scores.py. set,forecast,happened,weight; then 'set,brier,roc_area,0' rows named =set.")
print("set,forecast,happened,weight")
sets = {}
for name, count, skill, step in (("sharp", 200, 0.9, 0), ("blunt", 200, 0.2, 0), ("ties", 150, 0.6, 0.25), ("weighted", 120, 0.5, 0)):
    rows = []
    for _ in range(count):
        p = random.random()
        truth = random.random() < skill * p + (1 - skill) * 0.3
        if step:
            p = round(p / step) * step
        rows.append((round(p, 4), int(truth), 1 if name != "weighted" else random.choice([1, 2, 5])))
    sets[name] = rows
    for p, y, w in rows:
        print(f"{name},{p},{y},{w}")
for name, rows in sets.items():
    p, y, w = zip(*rows)
    print(f"={name},{brier_score_loss(y, p, sample_weight=w):.12f},{roc_auc_score(y, p, sample_weight=w):.12f},0")
