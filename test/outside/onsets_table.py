"""Asynchrony of each pair in a table of onsets, with Python's own csv and statistics modules; prints JSON, milliseconds."""

import csv
import itertools
import json
import statistics
import sys

path, *players = sys.argv[1:]
with open(path, newline="", encoding="utf-8") as file:
    rows = list(csv.DictReader(file))


def number(text):
    try:
        return float(text)
    except ValueError:
        return None


result = []
for first, second in itertools.combinations(players, 2):
    gaps = [
        1000 * (a - b)
        for a, b in ((number(row[first]), number(row[second])) for row in rows)
        if a is not None and b is not None
    ]
    result.append(
        {
            "parts": [first, second],
            "n": len(gaps),
            "mean": statistics.fmean(gaps),
            "sd": statistics.stdev(gaps),
            "size": statistics.fmean(map(abs, gaps)),
        }
    )
print(json.dumps(result))
