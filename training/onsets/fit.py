#!/usr/bin/env python3
"""Fits the model of note beginnings (src/listen/noteModel.ts) to candidates that gather.mjs wrote.

    /usr/bin/python3 training/onsets/fit.py CANDIDATES.json [...] --out src/listen/noteModel.ts
    /usr/bin/python3 training/onsets/fit.py CANDIDATES.json [...] --check

Needs NumPy. Each candidate gives: the log odds that it is the note's beginning; where the physical start and the
perceived beat lie against the reference (half of the rise); and how far off that may be. Loss: cross entropy, and for
true candidates the negative log likelihood of Student's t with 4 degrees of freedom, which a few wild errors do not rule.
--check leaves out one fifth of the items at a time and tells the errors on them.
"""
import json
import sys

import numpy as np

WIDTHS = (32, 24)
REACH = 0.045  # seconds: a candidate further from the truth than this is no candidate for it
NEAR = 0.020  # seconds: candidates as near as this are all right
NU = 4.0


def load(paths):
    x, y, mask, label, group, event = [], [], [], [], [], []
    n = 0
    for path in paths:
        for note in json.load(open(path)):
            truth = note['truth']
            found = note['candidates']
            n += 1
            if truth is not None and (truth.get('ornament') or truth.get('state') == 'wrong'):
                continue
            best = None
            if truth is not None and found:
                best = min(range(len(found)), key=lambda c: abs(found[c]['ref'] - truth['perceived']))
                if abs(found[best]['ref'] - truth['perceived']) > REACH:
                    best = None
            for c, candidate in enumerate(found):
                x.append(candidate['f'])
                away = abs(candidate['ref'] - truth['perceived']) if truth is not None else 1.0
                label.append(1.0 if c == best or away < NEAR else 0.0)
                mask.append(1.0 if c == best else 0.3 if away < REACH else 0.0)
                y.append([(truth['physical'] - candidate['ref']) * 100, (truth['perceived'] - candidate['ref']) * 100] if away < REACH else [0, 0])
                group.append(note['item'])
                event.append(n)
    return (np.array(x, np.float64), np.array(y), np.array(label), np.array(mask), np.array(group), np.array(event))


def train(x, y, label, mask, seed, epochs=70):
    rng = np.random.default_rng(seed)
    middle = np.median(x, 0)
    spread = np.maximum(x.std(0), 0.05)
    z = np.clip((x - middle) / spread, -4, 4)
    sizes = (x.shape[1], *WIDTHS, 5)
    w = [rng.normal(0, np.sqrt(2 / a), (a, b)) for a, b in zip(sizes, sizes[1:])]
    w[-1] *= 0.1
    b = [np.zeros(s) for s in sizes[1:]]
    p = w + b
    m = [np.zeros_like(q) for q in p]
    v = [np.zeros_like(q) for q in p]
    step = 0
    n = len(z)
    for epoch in range(epochs):
        rate = 3e-3 * 0.5 * (1 + np.cos(np.pi * epoch / epochs)) + 1e-5
        order = rng.permutation(n)
        for at in range(0, n, 256):
            i = order[at:at + 256]
            h = z[i] + rng.normal(0, 0.05, (len(i), z.shape[1]))
            acts = [h]
            for l in range(len(w)):
                h = h @ w[l] + b[l]
                if l + 1 < len(w):
                    h = np.maximum(0, h)
                acts.append(h)
            out = acts[-1]
            g = np.zeros_like(out)
            g[:, 0] = 1 / (1 + np.exp(-out[:, 0])) - label[i]
            for k in (0, 1):
                s = np.clip(out[:, 3 + k], -4, 3)
                r = (y[i, k] - out[:, 1 + k]) * np.exp(-s)
                d = (NU + 1) * r / (NU + r * r)
                g[:, 1 + k] = -mask[i] * d * np.exp(-s)
                g[:, 3 + k] = mask[i] * (1 - d * r)
            g = np.clip(g, -5, 5) / len(i)
            gw, gb = [None] * len(w), [None] * len(w)
            for l in reversed(range(len(w))):
                gw[l] = acts[l].T @ g + 1e-4 * w[l]
                gb[l] = g.sum(0)
                if l:
                    g = (g @ w[l].T) * (acts[l] > 0)
            step += 1
            for q, grad in enumerate(gw + gb):
                m[q] = 0.9 * m[q] + 0.1 * grad
                v[q] = 0.999 * v[q] + 0.001 * grad * grad
                p[q] -= rate * (m[q] / (1 - 0.9 ** step)) / (np.sqrt(v[q] / (1 - 0.999 ** step)) + 1e-8)
    return middle, spread, w, b


def run(model, x):
    middle, spread, w, b = model
    h = np.clip((x - middle) / spread, -4, 4)
    for l in range(len(w)):
        h = h @ w[l] + b[l]
        if l + 1 < len(w):
            h = np.maximum(0, h)
    return h


def report(name, out, y, mask):
    keep = mask == 1
    for k, what in ((0, 'physical'), (1, 'perceived')):
        e = (out[keep, 1 + k] - y[keep, k]) * 10
        r = np.abs(e / 10) / np.exp(np.clip(out[keep, 3 + k], -4, 3))
        print(f'{name} {what}: median |e| {np.median(abs(e)):.2f} ms, 95 % {np.quantile(abs(e), .95):.1f}, within 25 ms {np.mean(abs(e) < 25):.4f}, '
              f'bias {np.median(e):.2f}; scale for 68 % {np.quantile(r, .68):.2f}, for 95 % {np.quantile(r, .95):.2f}')


def check(data):
    x, y, label, mask, group, event = data
    names = np.unique(group)
    out = np.zeros((len(x), 5))
    for f in range(5):
        test = np.isin(group, names[f::5])
        out[test] = run(train(x[~test], y[~test], label[~test], mask[~test], f), x[test])
    report('held out', out, y, mask)
    right = total = 0
    for e in np.unique(event):
        i = event == e
        if label[i].sum() > 0:
            total += 1
            right += label[i][np.argmax(out[i, 0])]
    print(f'held out: the right candidate has the best odds in {right / total:.4f} of {total} notes')
    loss = np.mean(np.log1p(np.exp(-np.where(label > 0, out[:, 0], -out[:, 0]))))
    print(f'held out: cross entropy {loss:.4f}')


def text(model):
    middle, spread, w, b = model
    row = lambda values: '[' + ', '.join(f'{value:.4g}' for value in values) + ']'
    lines = ['/** Weights of the model of note beginnings. Written by training/onsets/fit.py; not to be edited. */',
             "import type { Network } from './network.ts';", '', 'export const noteModel: Network = {',
             f'  middles: {row(middle)},', f'  spreads: {row(spread)},', '  layers: [']
    for a, c in zip(w, b):
        lines += ['    {', '      weights: [', *[f'        {row(r)},' for r in a.T], '      ],', f'      biases: {row(c)},', '    },']
    return '\n'.join([*lines, '  ],', '};', ''])


if __name__ == '__main__':
    out = sys.argv[sys.argv.index('--out') + 1] if '--out' in sys.argv else None
    data = load([a for a in sys.argv[1:] if a.endswith('.json')])
    print(f'{len(data[0])} candidates, {int(data[3].sum())} of them true, {data[0].shape[1]} numbers each')
    if '--check' in sys.argv:
        check(data)
    if out is not None:
        model = train(*data[:4], seed=1)
        report('fitted', run(model, data[0]), data[1], data[3])
        open(out, 'w').write(text(model))
