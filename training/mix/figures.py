"""Figures of what try.mjs wrote: python3 figures.py answers.jsonl [--prior MS]"""

import json
import sys

import numpy as np

from data import slope

lines = [json.loads(line) for line in open(sys.argv[1])]
prior = float(sys.argv[sys.argv.index("--prior") + 1]) / 1000 if "--prior" in sys.argv else None


def quantile(at, p, q):
    """Seconds below which the share q lies; a value's mass lies evenly about its middle."""
    step = at[1] - at[0]
    edges = np.concatenate([at - step / 2, [at[-1] + step / 2]])
    return np.interp(q, np.concatenate([[0], np.cumsum(p)]), edges)


for n in lines:
    a = n["answer"]
    if a is None:
        n["mean"] = n["near"] = n["time"]
        n["in68"] = n["in95"] = False
        n["unsure"] = True
        continue
    p = np.array(a["p"])
    at = a["start"] + a["step"] * np.arange(len(p))
    if prior:
        p = p * np.exp(-0.5 * ((at - n["time"]) / prior) ** 2)
    p = p / p.sum()
    peak = at[p.argmax()]
    close = p * (np.abs(at - peak) <= 0.021)
    n["mean"], n["near"] = p @ at, close @ at / close.sum()
    n["width"] = quantile(at, p, 0.975) - quantile(at, p, 0.025)
    n["in68"] = quantile(at, p, 0.16) <= n["perceived"] <= quantile(at, p, 0.84)
    n["in95"] = quantile(at, p, 0.025) <= n["perceived"] <= quantile(at, p, 0.975)
    n["unsure"] = a["trust"] != "sure"

print(f"{'row':24}{'n':>6} | curve F25 F50 | F25   F50   median | slope mean, point, sure | unsure  wrong among sure (>50 ms) | 68 %  95 %  width ms")
for row in sorted({n["row"] for n in lines}) + ["all"]:
    some = [n for n in lines if row in ("all", n["row"])]
    truth = np.array([n["perceived"] for n in some])

    def errors(key):
        e = np.array([n[key] for n in some]) - truth
        groups = {}
        for i, n in enumerate(some):
            groups.setdefault((n["item"], n["part"]), []).append(i)
        for those in groups.values():
            e[those] -= np.median(e[those])
        return np.abs(e)

    curve, near = errors("time"), errors("near")
    sure = np.array([not n["unsure"] for n in some])
    sures = [n for n in some if not n["unsure"]]
    s = lambda key, which: slope(which, np.array([n[key] for n in which]), np.array([n["perceived"] for n in which]))
    print(
        f"{row:24}{len(some):6} |  {np.mean(curve <= 0.025):.3f} {np.mean(curve <= 0.05):.3f}  | {np.mean(near <= 0.025):.3f} {np.mean(near <= 0.05):.3f} {1000 * np.median(near):5.1f}  |"
        f" {s('mean', some):.2f} {s('near', some):.2f} {s('mean', sures):.2f} | {np.mean(~sure):.3f} {np.mean(near[sure] > 0.05):.4f} |"
        f" {np.mean([n['in68'] for n in some]):.3f} {np.mean([n['in95'] for n in some]):.3f} {1000 * np.median([n.get('width', 0) for n in some]):.0f}"
    )
