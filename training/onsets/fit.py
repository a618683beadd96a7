#!/usr/bin/env python3
"""Fits the model of note beginnings (src/listen/noteModel.ts) and of how far off they may be (src/listen/spreadModel.ts) to what
gather.mjs wrote.

    python3 training/onsets/fit.py tuning.jsonl wide.jsonl --check check.jsonl --out src/listen

Needs NumPy; `--gpu` takes CuPy for the arithmetic (the same numbers but for rounding). `--folds-only`: no final fit.
Each candidate gives: the log odds that it is the note's beginning; where the physical start and the perceived beat lie against the
reference (half of the rise); and how far off that may be. Loss: cross entropy, and for true candidates the negative log likelihood of
Student's t with 4 degrees of freedom, which a few wild errors do not rule. Sounds (an instrument, another program of the font, a kind of
made tones) are left out in turn, and figures are told of sounds left out. From those errors the second model is fitted: the logarithm of
one standard deviation as a linear function of what is known of the choice, such that 68 % and 95 % of the errors lie within a normal
distribution's 0.9945 and 1.96 of them (quantile regression, Koenker and Bassett 1978). `--check`: takes in fonts of other makers; told,
never fitted to.
"""
import argparse
import base64
import re

import numpy as np

from choose import chains, figures, states, summary, told
from data import Data, part
from measured import PERCEIVED, PHYSICAL, rows as measured_rows

WIDTHS = (64, 32)
NU = 4.0
EPOCHS = 20
BATCH = 1024
SEED = 1
FOLDS = 5
MEMBERS = 3
DECAY = 1e-3
NOISE = 0.2
DROP = 0.2
DRAW = 0.05


def train(xp, x, y, label, weight, seed):
    rng = np.random.default_rng(seed)
    noise = xp.random.RandomState(seed) if xp is not np else np.random.RandomState(seed)
    middle = np.median(x, 0)
    spread = np.maximum(x.std(0), 0.05)
    z = xp.asarray(np.clip((x - middle) / spread, -4, 4), dtype=xp.float32)
    y, label, weight = (xp.asarray(a, dtype=xp.float32) for a in (y, label, weight))
    sizes = (z.shape[1], *WIDTHS, 5)
    w = [xp.asarray(rng.normal(0, np.sqrt(2 / a), (a, b)), dtype=xp.float32) for a, b in zip(sizes, sizes[1:])]
    w[-1] *= 0.1
    b = [xp.zeros(s, dtype=xp.float32) for s in sizes[1:]]
    p = w + b
    m = [xp.zeros_like(q) for q in p]
    v = [xp.zeros_like(q) for q in p]
    step, n = 0, len(z)
    steps = EPOCHS * ((n + BATCH - 1) // BATCH)
    for epoch in range(EPOCHS):
        order = xp.asarray(rng.permutation(n))
        for at in range(0, n, BATCH):
            i = order[at:at + BATCH]
            rate = 3e-3 * 0.5 * (1 + np.cos(np.pi * step / steps)) + 1e-5
            h = z[i] + NOISE * noise.standard_normal((len(i), z.shape[1])).astype(xp.float32)
            acts, keeps = [h], []
            for l in range(len(w)):
                h = h @ w[l] + b[l]
                if l + 1 < len(w):
                    h = xp.maximum(0, h)
                    if DROP:
                        keep = (noise.random_sample(h.shape) >= DROP).astype(xp.float32) / (1 - DROP)
                        h = h * keep
                        keeps.append(keep)
                acts.append(h)
            out = acts[-1]
            g = xp.zeros_like(out)
            g[:, 0] = 1 / (1 + xp.exp(-out[:, 0])) - label[i]
            for k in (0, 1):
                s = xp.clip(out[:, 3 + k], -4, 3)
                r = (y[i, k] - out[:, 1 + k]) * xp.exp(-s)
                d = (NU + 1) * r / (NU + r * r)
                g[:, 1 + k] = -weight[i] * d * xp.exp(-s)
                g[:, 3 + k] = weight[i] * (1 - d * r)
            g = xp.clip(g, -5, 5) / len(i)
            step += 1
            for l in reversed(range(len(w))):
                gw, gb = acts[l].T @ g + DECAY * w[l], g.sum(0)
                if l:
                    g = (g @ w[l].T) * (acts[l] > 0)
                    if DROP:
                        g = g * keeps[l - 1]
                for q, grad in ((l, gw), (len(w) + l, gb)):
                    m[q] = 0.9 * m[q] + 0.1 * grad
                    v[q] = 0.999 * v[q] + 0.001 * grad * grad
                    p[q] -= rate * (m[q] / (1 - 0.9 ** step)) / (xp.sqrt(v[q] / (1 - 0.999 ** step)) + 1e-8)
    host = (lambda a: a.get()) if xp is not np else (lambda a: a)
    return middle, spread, [host(a).astype(float) for a in w], [host(a).astype(float) for a in b]


def run(models, x):
    total = 0
    for middle, spread, w, b in models:
        h = np.clip((x - middle) / spread, -4, 4)
        for l in range(len(w)):
            h = h @ w[l] + b[l]
            if l + 1 < len(w):
                h = np.maximum(0, h)
        total = total + h
    return total / len(models)


def folds(names, seed=SEED):
    """By sound; those with most candidates first, each into the smallest fold so far, so that folds are of one size."""
    sounds, counts = np.unique(names.astype(str), return_counts=True)
    order = np.argsort(-(counts + np.random.default_rng(seed).random(len(counts))))
    size, of = np.zeros(FOLDS), {}
    for s in order:
        f = int(size.argmin())
        of[sounds[s]] = f
        size[f] += counts[s]
    return np.array([of[str(name)] for name in names])


def fitted(xp, data, chosen, members, seed):
    use = part(data, chosen)
    return [train(xp, data.x[use], data.y[use], data.label[use], data.weight[use], seed + 100 * k) for k in range(members)]


def held_out(xp, data, fold, members):
    out = np.zeros((len(data.x), 5))
    for f in range(FOLDS):
        test = (fold == f)[data.note]
        out[test] = run(fitted(xp, data, fold != f, members, SEED + f), data.x[test])
    return out


def spread(rows, error, steps=1500):
    """Quantile regression of the logarithm of the error's size at 68 % and 95 %, both with one line; drawn a little to the model's own scale."""
    middle = np.zeros(rows.shape[1])
    size = np.maximum(rows.std(0), 0.1)
    size[0] = 1
    middle[1:] = rows[:, 1:].mean(0)
    z = (rows - middle) / size
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


def seconds(rows, weights):
    return 0.01 * np.exp(np.clip(rows @ weights, -5, 3))


def errors(data, out, chosen):
    """Raw errors of the chosen, in units of 10 ms, for start and beat; nan where there is no truth to learn from."""
    n = np.flatnonzero(chosen >= 0)
    k = chosen[n]
    beat = data.ref[k] + out[k, 2] / 100
    start = np.minimum(beat, data.ref[k] + out[k, 1] / 100)
    known = data.learn[n]
    return n, [np.where(known, (start - data.physical[n]) * 100, np.nan), np.where(known, (beat - data.perceived[n]) * 100, np.nan)]


def usable(out, chosen, n):
    return out[chosen[n], 0] > -1.5


def spread_models(data, out, chosen, fold):
    """The final weights, the deviations on sounds left out of this too, and by how much all was widened."""
    rows, (n, wrong) = told(data, out, chosen), errors(data, out, chosen)
    answers, left_out = [], []
    for k, name in ((0, 'physical'), (1, 'perceived')):
        good = ~np.isnan(wrong[k]) & usable(out, chosen, n)
        own = np.zeros(len(n))
        for f in range(FOLDS):
            test = fold[n] == f
            weights = spread(rows[k][good & ~test], wrong[k][good & ~test])
            own[test] = seconds(rows[k][test], weights)
        r = abs(wrong[k][good]) / 100 / own[good]
        # Errors have wider tails than the normal distribution: both cannot hold at once. Until 94 % lie within 95 %, as long as no more
        # than 76 % lie within 68 %.
        wider = next(m for m in np.arange(0.8, 1.6, 0.01) if np.mean(r < .9945 * m) >= 0.76 or np.mean(r < 1.96 * m) >= 0.94)
        print(f'{name}: sounds left out of both models: {100 * np.mean(r < .9945):.1f} % within 68 %, {100 * np.mean(r < 1.96):.1f} % within 95 %; times {wider:.2f}: '
              f'{100 * np.mean(r < .9945 * wider):.1f}, {100 * np.mean(r < 1.96 * wider):.1f}')
        final = spread(rows[k][good], wrong[k][good])
        final[0] += np.log(wider)
        answers.append(final)
        left_out.append(own * wider)
    return answers, left_out


def measured_models(data, out, chosen, fold):
    """The same for beginnings that are measured: the network matters little to them, so that its answers need not be on sounds left out."""
    n = np.flatnonzero((chosen >= 0) & data.learn & ~np.isnan(data.perceived))
    n = n[out[chosen[n], 0] > -1.5]
    k = chosen[n]
    answers = []
    for which, truth, column, name in ((PHYSICAL, data.physical, 3, 'physical'), (PERCEIVED, data.perceived, 4, 'perceived')):
        at, good, told_ = measured_rows(data, out, k, which, np.clip(out[k, column], -4, 3))
        wrong = at - (truth[n] - data.ref[k]) * 100
        estimated = (out[k, which[2]] - (truth[n] - data.ref[k]) * 100)[good]
        told_, wrong, own = told_[good], wrong[good], fold[n][good]
        r = np.zeros(len(wrong))
        for f in range(FOLDS):
            test = own == f
            r[test] = abs(wrong[test]) / 100 / seconds(told_[test], spread(told_[~test], wrong[~test]))
        wider = next(m for m in np.arange(0.8, 1.6, 0.01) if np.mean(r < .9945 * m) >= 0.76 or np.mean(r < 1.96 * m) >= 0.94)
        print(f'{name}, measured: {len(r)} of {len(n)}, median |e| {10 * np.median(abs(wrong)):.2f} ms (by the network {10 * np.median(abs(estimated)):.2f}); '
              f'{100 * np.mean(r < .9945 * wider):.1f} % within 68 %, {100 * np.mean(r < 1.96 * wider):.1f} % within 95 %')
        final = spread(told_, wrong)
        final[0] += np.log(wider)
        answers.append(final)
    return answers


def with_measured(data, out, chosen, deviations, weights):
    """Answers and deviations of the chosen, with what is measured."""
    out, n = out.copy(), np.flatnonzero(chosen >= 0)
    k = chosen[n]
    changed = []
    for which, column, deviation, w in ((PHYSICAL, 3, deviations[0], weights[0]), (PERCEIVED, 4, deviations[1], weights[1])):
        at, good, told_ = measured_rows(data, out, k, which, np.clip(out[k, column], -4, 3))
        changed.append(np.where(good, seconds(told_, w), deviation))
        out[k[good], which[2]] = at[good]
    return out, changed


def tell(title, data, out, deviations=None, by='row', spread_weights=None, measured_weights=None):
    chosen = chains(data, out)
    if spread_weights is not None:
        deviations = [seconds(rows, w) for rows, w in zip(told(data, out, chosen), spread_weights)]
    if measured_weights is not None:
        out, deviations = with_measured(data, out, chosen, deviations, measured_weights)
    heard = states(data, out, chosen, deviations[1])
    n, wrong = errors(data, out, chosen)
    print(f'\n{title}\n| {by} | notes | F25 | median ms | p95 | unsure % | bias of a player, median | 68 % | 95 % |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |')
    keys = getattr(data, by)
    for key in [*sorted(set(keys)), None]:
        which = keys == key if key is not None else np.ones(len(keys), bool)
        s = summary(data, out, heard, chosen, which)
        ok = which[n] & heard[n] & ~np.isnan(wrong[1])
        r = abs(wrong[1][ok]) / 100 / deviations[1][ok]
        print(f"| {key or 'all'} | {s['notes']} | {s['F']:.3f} | {s['median']:.1f} | {s['p95']:.1f} | {s['unsure']:.1f} | {s['bias']:.1f} | "
              f"{100 * np.mean(r < .9945):.0f} | {100 * np.mean(r < 1.96):.0f} |")
    for name, mask in (('repeated', data.repeated > 0), ('slurred', data.slurred > 0)):
        s = summary(data, out, heard, chosen, mask)
        print(f"{name}: {s['notes']} notes, F25 {s['F']:.3f}, median {s['median']:.1f} ms, unsure {s['unsure']:.1f} %")


def packed(values):
    flat = np.asarray(values, float).ravel()
    scale = max(abs(flat).max(), 1e-9) / 32767
    return f"{{ scale: {scale:.7g}, text: '{base64.b64encode(np.round(flat / float(f'{scale:.7g}')).astype('<i2').tobytes()).decode()}' }}"


def text(models):
    lines = ['/** Weights of the model of note beginnings. Written by training/onsets/fit.py; not to be edited. */',
             "import type { PackedNetwork } from './network.ts';", '', 'export const noteModel: readonly PackedNetwork[] = [']
    for middle, spread_, w, b in models:
        lines += ['  {', f'    middles: {packed(middle)},', f'    spreads: {packed(spread_)},', '    layers: [']
        for a, c in zip(w, b):
            lines += ['      {', f'        weights: {packed(a.T)},', f'        biases: {packed(c)},', '      },']
        lines += ['    ],', '  },']
    return '\n'.join([*lines, '];', ''])


def models_of(path):
    """The networks of a noteModel.ts."""
    lists = [float(scale) * np.frombuffer(base64.b64decode(data), '<i2') for scale, data in
             re.findall(r"scale: ([\d.e+-]+),\s*text:\s*'([^']*)'", open(path).read())]
    each = 2 + 2 * (len(WIDTHS) + 1)
    models = []
    for at in range(0, len(lists), each):
        middle, spread_, *layers = lists[at:at + each]
        b = layers[1::2]
        models.append((middle, spread_, [w.reshape(len(c), -1).T for w, c in zip(layers[::2], b)], b))
    return models


def spread_text(physical, perceived, physical_measured, perceived_measured):
    row = lambda values: '[' + ', '.join(f'{value:.4g}' for value in values) + ']'
    return '\n'.join(['/** Weights of deviation.ts. Written by training/onsets/fit.py; not to be edited. */', 'export const spreadModel: {',
                      '  readonly physical: readonly number[];', '  readonly perceived: readonly number[];',
                      '  readonly physicalMeasured: readonly number[];', '  readonly perceivedMeasured: readonly number[];', '} = {',
                      f'  physical: {row(physical)},', f'  perceived: {row(perceived)},',
                      f'  physicalMeasured: {row(physical_measured)},', f'  perceivedMeasured: {row(perceived_measured)},', '};', ''])


def main():
    told_ = argparse.ArgumentParser()
    told_.add_argument('files', nargs='+')
    told_.add_argument('--check')
    told_.add_argument('--out')
    told_.add_argument('--gpu', action='store_true')
    told_.add_argument('--folds-only', action='store_true')
    told_.add_argument('--as-built', help='folder of a noteModel.ts and a spreadModel.ts: only what is measured is fitted')
    given = told_.parse_args()
    xp = np
    if given.gpu:
        import cupy as xp
    data = Data(given.files)
    print(f'seed {SEED}; {len(data.notes)} notes, {len(data.x)} candidates of {data.x.shape[1]} numbers, {len(set(data.sound))} sounds', flush=True)
    fold = folds(data.sound)
    left_out = None
    if given.as_built:
        models = models_of(f'{given.as_built}/noteModel.ts')
        weights = [np.array([float(v) for v in line.split(',') if v.strip()]) for line in
                   re.findall(r'(?:physical|perceived): \[([^\]]*)\]', open(f'{given.as_built}/spreadModel.ts').read())]
    else:
        out = held_out(xp, data, fold, MEMBERS)
        weights, left_out = spread_models(data, out, chains(data, out), fold)
        models = [] if given.folds_only else fitted(xp, data, np.ones(len(data.notes), bool), MEMBERS, SEED)
    answers = run(models, data.x) if models else out
    measured_weights = measured_models(data, answers, chains(data, answers), fold)
    if left_out is not None:
        for by in ('row', 'sound'):
            tell('Sounds left out', data, out, left_out, by=by, measured_weights=measured_weights)
    if given.out and models:
        open(f'{given.out}/noteModel.ts', 'w').write(text(models))
        open(f'{given.out}/spreadModel.ts', 'w').write(spread_text(*weights, *measured_weights))
    if given.check and models:
        check = Data([given.check])
        for by in ('row', 'sound'):
            tell('Check: fonts of other makers, which nothing was fitted to', check, run(models, check.x), by=by, spread_weights=weights,
                 measured_weights=measured_weights)


if __name__ == '__main__':
    main()
