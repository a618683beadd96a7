"""One candidate for each note, as src/listen does it from the model's answers (chain.ts, deviation.ts, player.ts), and how good that is."""
import numpy as np

PRIOR = 0.06  # seconds, as in chain.ts
EVEN, EVEN_MOST = 0.05, 1.5
NONE = -3.0
CLOSEST, DISORDER = 0.02, 6.0


def chains(data, out):
    """The candidate chosen for each note, or -1."""
    chosen = np.full(len(data.notes), -1)
    start = 0
    keys = [(n['item'], n['part']) for n in data.notes]
    while start < len(keys):
        end = start
        while end < len(keys) and keys[end] == keys[start]:
            end += 1
        back, score, shift, at = [], None, None, None
        for n in range(start, end):
            c = slice(data.first[n], data.first[n] + data.many[n])
            here = np.r_[data.at[c], data.coarse[n]]
            moved = here - data.coarse[n]
            own = np.r_[out[c, 0] - 0.5 * (moved[:-1] / PRIOR) ** 2, NONE]
            if score is None:
                back.append(np.zeros(len(own), int))
                score = own
            else:
                uneven = np.minimum(EVEN_MOST, abs(moved[:, None] - shift[None]) / EVEN)
                order = np.where(here[:, None] - at[None] < CLOSEST, DISORDER, 0)
                uneven[-1], uneven[:, -1] = 0.5, 0.5
                order[-1], order[:, -1] = 0, 0
                total = score[None] - uneven - order
                back.append(total.argmax(1))
                score = total.max(1) + own
            shift, at = moved, here
        k = int(score.argmax())
        for n in range(end - 1, start - 1, -1):
            if k < data.many[n]:
                chosen[n] = data.first[n] + k
            k = back[n - start][k]
        start = end
    return chosen


def told(data, out, chosen):
    """What the second model is told of each choice: the same as toldOf in deviation.ts. One row for each chosen note, for start and beat."""
    rows = []
    for n in np.flatnonzero(chosen >= 0):
        k = chosen[n]
        c = slice(data.first[n], data.first[n] + data.many[n])
        worth = out[c, 0] - 0.5 * ((data.at[c] - data.coarse[n]) / PRIOR) ** 2
        share = np.exp(worth - worth.max())
        beats = data.ref[c] + out[c, 2] / 100
        own = data.ref[k] + out[k, 2] / 100
        apart = 1000 * np.sqrt((share * (beats - own) ** 2).sum() / share.sum())
        rows.append([np.log1p(np.exp(-out[k, 0])), np.log1p(apart / 3), min(2, abs(data.at[k] - data.coarse[n]) / PRIOR),
                     data.repeated[n], data.slurred[n], *data.surround[k]])
    rest = np.array(rows)
    logs = np.clip(out[chosen[chosen >= 0]][:, 3:5], -4, 3)
    one = np.ones((len(rest), 1))
    return [np.hstack([one, logs[:, [k]], rest]) for k in (0, 1)]


def states(data, out, chosen, deviation):
    """True where a note would be called heard (player.ts); `deviation`: seconds, for chosen notes, of the beat."""
    heard = np.zeros(len(chosen), bool)
    for n, wide in zip(np.flatnonzero(chosen >= 0), deviation):
        odds, scale = out[chosen[n], 0], 0.01 * np.exp(np.clip(out[chosen[n], 4], -4, 3))
        likeness = data.notes[n]['likeness']
        if likeness is not None and likeness < 0.4:
            continue
        heard[n] = (odds >= 0 and scale <= 0.0207) or (odds >= -1.5 and wide <= 0.03)
    return heard


def figures(data, out, chosen, heard, field=2):
    """By note: whether it counts, was found within 25 ms, its debiased error in ms; all by player, as bench/hear/score.mjs does."""
    truth = data.perceived if field == 2 else data.physical
    k = np.maximum(chosen, 0)
    beat = data.ref[k] + out[k, 2] / 100
    when = beat if field == 2 else np.minimum(beat, data.ref[k] + out[k, 1] / 100)
    state = np.array([n['state'] for n in data.notes])
    played = (state == 'played') | (state == 'abandoned')
    raw = np.where(heard & played, (when - truth) * 1000, np.nan)
    error = raw.copy()
    keys = np.array([f"{n['item']}/{n['part']}" for n in data.notes])
    bias = {}
    for key in np.unique(keys):
        own = keys == key
        near = own & (abs(raw) <= 150)
        bias[key] = np.median(raw[near]) if near.any() else 0
        error[own] -= bias[key]
    return played, raw, error, bias


def summary(data, out, heard, chosen, which, field=2):
    played, raw, error, bias = figures(data, out, chosen, heard, field)
    p, h = played & which, heard & which
    hits = (abs(error[p]) <= 25).sum()
    e = abs(error[p & heard])
    size = [abs(b) for key, b in bias.items() if key in {f"{n['item']}/{n['part']}" for n, w in zip(data.notes, which) if w}]
    return dict(notes=int(p.sum()), F=2 * hits / max(1, p.sum() + h.sum()), median=np.median(e) if len(e) else np.nan,
                p95=np.quantile(e, .95) if len(e) else np.nan, unsure=100 * (1 - (p & heard).sum() / max(1, p.sum())),
                bias=np.median(size) if size else np.nan)
