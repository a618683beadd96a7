"""What gather.mjs wrote, as arrays: notes, their candidates, and what the model is told of each candidate."""
import base64
import gzip
import json

import numpy as np

ROWS = 5  # of curves; the last is novelty (src/listen/curves.ts)
REACH, STEP = 50, 2
WINDOW = 2 * REACH // STEP + 1
FAR = 0.045  # seconds: a candidate further from the truth than this is no candidate for it
NEAR = 0.020  # seconds: candidates as near as this are all right


def windows(curves, frame):
    """The same as windowsOf in src/listen/curves.ts: `curves` is ROWS x frames."""
    at = np.clip(frame + np.arange(-REACH, REACH + 1, STEP), 0, curves.shape[1] - 1)
    out = curves[:, at].astype(np.float32)
    out[:-1] = (out[:-1] - out[:-1].max(1, keepdims=True)) / 80
    out[-1] *= 2 / 240
    return out.ravel()


def opened(path):
    return gzip.open(path, 'rt') if path.endswith('.gz') else open(path)


class Data:
    """`note[c]` is the note of candidate c; a note's candidates lie from `first[n]` on, `many[n]` of them."""

    def __init__(self, paths):
        known, shown, ref, at, surround, now, note = [], [], [], [], [], [], []
        notes = []
        seen = set()
        for path in paths:
            for line in opened(path):
                d = json.loads(line)
                key = (d['item'], d['part'], d['coarse'])
                if key in seen:
                    continue
                seen.add(key)
                truth = d['truth'] or {}
                curves = np.frombuffer(base64.b64decode(d['curves']), np.uint8).reshape(ROWS, -1)
                # Trills and wrong notes have no true beginning to learn from; they stay in the chain.
                played = bool(truth) and truth['state'] != 'wrong' and not truth.get('ornament')
                notes.append(dict(item=d['item'], part=d['part'], row=d['row'], sound=d['sound'], coarse=d['coarse'],
                                  repeated=d['event'][0], slurred=d['event'][1], visited=d['visited'], likeness=d['likeness'],
                                  state=truth.get('state', 'missing'), ornament=truth.get('ornament'), learn=played or not truth,
                                  physical=truth.get('physical', np.nan), perceived=truth.get('perceived', np.nan),
                                  first=len(ref), many=len(d['candidates'])))
                for c in d['candidates']:
                    known.append(c['f'])
                    shown.append(windows(curves, c['frame']))
                    ref.append(c['ref'])
                    at.append(c['at'])
                    surround.append(c['s'])
                    now.append(c['now'])
                    note.append(len(notes) - 1)
        self.x = np.hstack([np.array(known, np.float32), np.array(shown, np.float32)])
        self.ref, self.at, self.note = np.array(ref), np.array(at), np.array(note)
        self.surround = np.array(surround, np.float32)
        odds, physical, perceived, *scales = np.array(now).T
        self.now = [odds, physical, perceived, *scales]
        self.notes = notes
        column = lambda name, kind=float: np.array([n[name] for n in notes], kind)
        self.sound, self.item, self.row = column('sound', object), column('item', object), column('row', object)
        self.coarse, self.physical, self.perceived = column('coarse'), column('physical'), column('perceived')
        self.repeated, self.slurred = column('repeated'), column('slurred')
        self.learn = column('learn', bool)
        # What the answers count from: half of the rise, but the steepest place where a note is repeated (judge.ts).
        self.ref = np.where(self.repeated[self.note] > 0, self.at, self.ref)
        self.first, self.many = column('first', int), column('many', int)
        self.targets()

    def targets(self):
        n = self.note
        away = abs(self.ref - self.perceived[n])
        away[np.isnan(away)] = 1
        best = np.zeros(len(n), bool)
        for first, many in zip(self.first, self.many):
            if many and away[first:first + many].min() <= FAR:
                best[first + away[first:first + many].argmin()] = True
        self.label = (best | (away < NEAR)).astype(np.float32)
        self.weight = np.where(best, 1.0, np.where(away < FAR, 0.3, 0.0)).astype(np.float32)
        y = np.stack([self.physical[n] - self.ref, self.perceived[n] - self.ref], 1) * 100
        self.y = np.where(self.weight[:, None] > 0, y, 0).astype(np.float32)
        self.use = self.learn[n]


def part(data, chosen):
    """Which candidates belong to notes that are chosen."""
    return data.use & chosen[data.note]
