"""The material that gather.mjs wrote, and how a note of it is shown to the network."""

import glob
import json

import numpy as np

EACH_FIT, REACH = 70, 45
HEARD, SCORE, KNOWN = 29, 20, 14
# What the first network made of the note and of those around it (src/listen/mix/beliefs.ts), for the second.
BELIEFS = 5
LEVELS = HEARD - 5
WIDTH = 2 * REACH + 1
STEP = 88 / 22050


def load(stem, each, again):
    """All files stem*.bin: rows heard, rows of the score (and beliefs), and a list of what is known of each note."""
    frames = 2 * each + 1
    rows = HEARD + SCORE + (BELIEFS if again else 0)
    size = rows * frames
    heard, score, notes = [], [], []
    for name in sorted(glob.glob(f"{stem}*.jsonl")):
        lines = [json.loads(line) for line in open(name) if line.strip()]
        raw = np.fromfile(name[:-6] + ".bin", np.uint8)
        raw = raw[: len(raw) // size * size].reshape(-1, size)
        count = min(len(lines), len(raw))
        heard.append(raw[:count, : HEARD * frames].reshape(count, HEARD, frames))
        score.append(raw[:count, HEARD * frames :].reshape(count, rows - HEARD, frames))
        notes += lines[:count]
    return np.concatenate(heard), np.concatenate(score), notes


def columns(notes):
    """Numbers of each note as arrays."""
    column = lambda f: np.array([f(n) for n in notes], np.float32)
    return {
        "away": column(lambda n: (n["perceived"] - n["time"]) / STEP),
        "physical": column(lambda n: (n["physical"] - n["time"]) / STEP),
        "known": np.array([n["known"] for n in notes], np.float32),
        "tops": np.array([n["tops"] for n in notes], np.float32),
        "absent": column(lambda n: 1.0 if n.get("absent") else 0.0),
        "usual": column(lambda n: n["usualTop"]),
    }


def crop(torch, heard, score, known, tops, usual, shift, each, gains=None, floor=None):
    """
    The network's input for notes shown `shift` frames beside their expected time: the same as noteFeatures in
    src/listen/mix/features.ts. `gains`: dB a partial; `floor`: dB below the loudest of noise that is added (both for fitting).
    For the first network neighbours are expected beside the note wherever it is shown; for the second they are where they were heard.
    """
    index = (each - REACH + shift)[:, None] + torch.arange(WIDTH, device=heard.device)[None]
    again = score.shape[1] > SCORE
    beside = index if again else torch.full_like(index, each - REACH) + torch.arange(WIDTH, device=heard.device)[None]
    score = torch.gather(score, 2, beside[:, None, :].expand(-1, score.shape[1], -1))
    rows = torch.gather(heard, 2, index[:, None, :].expand(-1, HEARD, -1)).float()
    db = rows[:, :LEVELS] / 2 - 70
    absent = rows[:, :LEVELS].amax(2, keepdim=True) == 0
    if gains is not None:
        db = db + gains.repeat(1, 3)[:, :, None]
    top = db.amax((1, 2), keepdim=True)
    if floor is not None:
        db = 10 * torch.log10(10 ** (db / 10) + 10 ** ((top + floor) / 10))
        db = torch.where(absent, -200.0, db)
    partials = torch.clamp(db - top, min=-60) / 20 + 1.5
    levels = rows[:, LEVELS : LEVELS + 3] / 2 - 70
    most = torch.maximum(levels.amax(2, keepdim=True), -120 - tops[:, 1:, None])
    levels = torch.clamp(levels - most, min=-60) / 20 + 1.5
    rest = torch.stack([rows[:, LEVELS + 3] / 120, rows[:, LEVELS + 4] / 240], 1)
    loud = torch.clamp((tops[:, 0] + top[:, 0, 0] - usual) / 10, -3, 3)
    bright = (tops[:, 2] + most[:, 1, 0]) - (tops[:, 1] + most[:, 0, 0])
    bright = torch.clamp((bright + 20) / 10, -3, 3)
    constants = torch.cat([known, loud[:, None], bright[:, None]], 1)
    return torch.cat([partials, levels, rest, score.float() / 120], 1), constants


def slope(notes, time, truth):
    """Of estimated on true asynchrony of every pair of parts at notated times that they share, each pair about its own means."""
    groups = {}
    for i, n in enumerate(notes):
        groups.setdefault((n["item"], n["mix"], round(n["written"], 4)), []).append(i)
    pairs = {}
    for (item, mix, _), those in groups.items():
        for a in those:
            for b in those:
                if notes[a]["part"] < notes[b]["part"]:
                    key = (item, mix, notes[a]["part"], notes[b]["part"])
                    pairs.setdefault(key, []).append((truth[a] - truth[b], time[a] - time[b]))
    xy = xx = 0
    for pair in pairs.values():
        if len(pair) < 5:
            continue
        v = np.array(pair)
        v = v - v.mean(0)
        xy += (v[:, 0] * v[:, 1]).sum()
        xx += (v[:, 0] ** 2).sum()
    return xy / max(1e-12, xx)
