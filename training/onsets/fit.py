#!/usr/bin/env python3
"""Fits the model of note beginnings (src/listen/noteModel.ts) to candidates that gather.mjs wrote.

    /usr/bin/python3 training/onsets/fit.py tuning.jsonl wide.jsonl --out src/listen/noteModel.ts --spread src/listen/spreadModel.ts
    /usr/bin/python3 training/onsets/fit.py wide.jsonl --as-built --spread src/listen/spreadModel.ts

The second leaves the model of the build as it is, and fits how far off it is to the errors that it makes on sounds that it has
not seen: only takes of widen.mjs are read for it.
Needs NumPy. Each candidate gives: the log odds that it is the note's beginning; where the physical start and the
perceived beat lie against the reference (half of the rise); and how far off that may be. Loss: cross entropy, and for
true candidates the negative log likelihood of Student's t with 4 degrees of freedom, which a few wild errors do not rule.
Sounds (an instrument, another program of the font, additive tones) are left out in turn. From the errors on sounds that were left
out the second model is fitted: the logarithm of one standard deviation as a linear function of what is known of the
choice, such that 68 % and 95 % of the errors lie within a normal distribution's 0.9945 and 1.96 of them (quantile regression, Koenker
and Bassett 1978). How well it holds is told on sounds that neither model was fitted to.
"""
import json
import sys

import numpy as np

WIDTHS = (32, 24)
REACH = 0.045  # seconds: a candidate further from the truth than this is no candidate for it
NEAR = 0.020  # seconds: candidates as near as this are all right
NU = 4.0
PRIOR = 0.06  # seconds, as in chain.ts
EPOCHS = 60
SEED = 1
FOLDS = 6
DRAW = 0.05


def answer(candidate):
    """What the build's model made of it, in its own units."""
    odds, physical, perceived, *scales = candidate['now']
    ref = candidate['ref']
    return [odds, (physical - ref) * 100, (perceived - ref) * 100, *np.log(np.maximum(scales, 1e-6) / 0.01)]


def load(paths):
    x, y, mask, label, group, event, known, now = [], [], [], [], [], [], [], []
    n = 0
    for path in paths:
        for line in open(path):
            note = json.loads(line)
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
                group.append(note['sound'])
                event.append(n)
                known.append([candidate['at'] - note['coarse'], candidate['ref'], truth['physical'] if truth else np.nan,
                              truth['perceived'] if truth else np.nan, *note['event'][:2], *candidate['s']])
                now.append(answer(candidate))
    return (np.array(x, np.float64), np.array(y), np.array(label), np.array(mask), np.array(group), np.array(event), np.array(known), np.array(now))


def train(x, y, label, mask, seed, epochs=EPOCHS):
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


def folds(sounds):
    names = sorted(set(sounds))
    order = np.random.default_rng(SEED).permutation(len(names))
    of = {names[n]: k % FOLDS for k, n in enumerate(order)}
    return np.array([of[name] for name in sounds])


def choices(data, out):
    """For each note what is known of its choice, and its errors (units of 10 ms): the same as toldOf in deviation.ts."""
    x, y, label, mask, group, event, known, _ = data
    ends = np.flatnonzero(np.diff(event)) + 1
    rows = []
    for i in np.split(np.arange(len(event)), ends):
        physical, perceived = known[i[0], 2:4]
        if np.isnan(perceived):
            continue
        worth = out[i, 0] - 0.5 * (known[i, 0] / PRIOR) ** 2
        c = int(np.argmax(worth))
        share = np.exp(worth - worth[c])
        beats = known[i, 1] + out[i, 2] / 100
        apart = 1000 * np.sqrt((share * (beats - beats[c]) ** 2).sum() / share.sum())
        k = i[c]
        odds = out[k, 0]
        if odds < -1.5:
            continue
        rest = [np.log1p(np.exp(-odds)), np.log1p(apart / 3), min(2, abs(known[k, 0]) / PRIOR), known[k, 4], known[k, 5], *known[k, 6:]]
        s = np.clip(out[k, 3:5], -4, 3)
        start = min(known[k, 1] + out[k, 1] / 100, beats[c])
        rows.append([1, s[0], *rest, (start - physical) * 100, 1, s[1], *rest, (beats[c] - perceived) * 100, k])
    return np.array(rows)


def spread(told, error, steps=2000):
    """Quantile regression of the logarithm of the error's size at 68 % and 95 %, both with one line; drawn a little to the model's own scale."""
    middle = np.zeros(told.shape[1])
    size = np.maximum(told.std(0), 0.1)
    size[0] = 1
    middle[1:] = told[:, 1:].mean(0)
    z = (told - middle) / size
    z[:, 0] = 1
    target = np.log(np.maximum(abs(error), 0.003))
    own = np.zeros(z.shape[1])
    own[1] = size[1]
    w = own.copy()
    m, v = w.copy(), w.copy()
    for step in range(1, steps + 1):
        line = z @ w
        g = 0
        for q, factor, weight in ((0.68, 0.9945, 1), (0.95, 1.96, 3)):
            # Each is weighted so that both have as much say, and then the wider one more, for intervals too narrow do more harm.
            g = g + weight * (np.where(target - line > np.log(factor), -q, 1 - q) / (q * (1 - q)) ** 0.5)
        g = z.T @ g / len(z) + DRAW * np.r_[0, (w - own)[1:]]
        m = 0.9 * m + 0.1 * g
        v = 0.99 * v + 0.01 * g * g
        w = w - 0.03 * (1 - step / steps) * (m / (1 - 0.9 ** step)) / (np.sqrt(v / (1 - 0.99 ** step)) + 1e-8)
    w = w / size
    w[0] -= (w[1:] * middle[1:]).sum()
    return w


def covered(told, error, w):
    r = abs(error) / np.exp(np.clip(told @ w, -5, 3))
    return 100 * np.mean(r < 0.9945), 100 * np.mean(r < 1.96)


def held_out(data):
    x, y, label, mask, group, event, known, _ = data
    fold = folds(group)
    out = np.zeros((len(x), 5))
    for f in range(FOLDS):
        test = fold == f
        out[test] = run(train(x[~test], y[~test], label[~test], mask[~test], SEED + f), x[test])
    report('sounds left out', out, y, mask)
    return out, fold


def spreads(data, out, fold):
    rows = choices(data, out)
    n = (rows.shape[1] - 1) // 2
    k = rows[:, -1].astype(int)
    answers = []
    for name, at in (('physical', 0), ('perceived', n)):
        told, error = rows[:, at:at + n - 1], rows[:, at + n - 1]
        weights = np.zeros((len(rows), n - 1))
        for f in range(FOLDS):
            test = fold[k] == f
            weights[test] = spread(told[~test], error[~test])
        r = abs(error) / np.exp(np.clip((told * weights).sum(1), -5, 3))
        print(f'{name}: of {len(r)} errors on sounds left out of both models {100 * np.mean(r < .9945):.1f} % within 68 %, {100 * np.mean(r < 1.96):.1f} % within 95 %')
        for sound in sorted(set(data[4])):
            own = data[4][k] == sound
            if own.any():
                print(f'    {sound}: {own.sum()}, {100 * np.mean(r[own] < .9945):.0f}, {100 * np.mean(r[own] < 1.96):.0f}')
        # A little wider, as long as no more than 73 % lie within 68 %, until 93 % lie within 95 %.
        wider = next(m for m in np.arange(1, 1.5, 0.01) if np.mean(r < .9945 * m) >= 0.73 or np.mean(r < 1.96 * m) >= 0.93)
        print(f'    made wider by {wider:.2f}: {100 * np.mean(r < .9945 * wider):.1f} % within 68 %, {100 * np.mean(r < 1.96 * wider):.1f} % within 95 %')
        final = spread(told, error)
        final[0] += np.log(wider)
        answers.append(final)
    return answers


def text(model):
    middle, spread, w, b = model
    row = lambda values: '[' + ', '.join(f'{value:.4g}' for value in values) + ']'
    lines = ['/** Weights of the model of note beginnings. Written by training/onsets/fit.py; not to be edited. */',
             "import type { Network } from './network.ts';", '', 'export const noteModel: Network = {',
             f'  middles: {row(middle)},', f'  spreads: {row(spread)},', '  layers: [']
    for a, c in zip(w, b):
        lines += ['    {', '      weights: [', *[f'        {row(r)},' for r in a.T], '      ],', f'      biases: {row(c)},', '    },']
    return '\n'.join([*lines, '  ],', '};', ''])


def spread_text(physical, perceived):
    row = lambda values: '[' + ', '.join(f'{value:.4g}' for value in values) + ']'
    return '\n'.join(['/** Weights of deviation.ts. Written by training/onsets/fit.py; not to be edited. */', 'export const spreadModel: {',
                      '  readonly physical: readonly number[];', '  readonly perceived: readonly number[];', '} = {',
                      f'  physical: {row(physical)},', f'  perceived: {row(perceived)},', '};', ''])


if __name__ == '__main__':
    data = load([a for a in sys.argv[1:] if a.endswith('.jsonl')])
    print(f'seed {SEED}; {len(data[0])} candidates, {int((data[3] == 1).sum())} of them true, {data[0].shape[1]} numbers each, {len(set(data[4]))} sounds')
    if '--as-built' in sys.argv:
        assert all('wide' in a for a in sys.argv[1:] if a.endswith('.jsonl')), 'only takes that the model was not fitted to'
        out, fold = data[7], folds(data[4])
        report('as built, unseen', out, data[1], data[3])
    else:
        out, fold = held_out(data)
    answers = spreads(data, out, fold)
    if '--spread' in sys.argv:
        open(sys.argv[sys.argv.index('--spread') + 1], 'w').write(spread_text(*answers))
    if '--out' in sys.argv:
        model = train(*data[:4], seed=SEED)
        report('fitted', run(model, data[0]), data[1], data[3])
        open(sys.argv[sys.argv.index('--out') + 1], 'w').write(text(model))
