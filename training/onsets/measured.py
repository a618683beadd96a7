"""Beginnings that are measured where they can be: the same as src/listen/measured.ts, and what is told of how far off they are."""
import numpy as np

CLEAR, CLEAR_RINGING, AGREEING = 6.0, 16.0, 1.4  # dB, dB, units of 10 ms
# Of what is known (features.ts) the crossing; of the curves (curves.ts) that in which it is; of the answers the network's.
PHYSICAL, PERCEIVED = (46, 2, 1), (44, 3, 2)
KNOWN, WINDOW, MIDDLE = 50, 51, 25


def measured(data, out, k, which):
    """For candidates k: where measured against the reference (units of 10 ms), whether it counts, margin in dB, and distance from the network's."""
    feature, row, answer = which
    at, there = data.x[k, feature], data.x[k, feature + 1] > 0
    curve = data.x[k, KNOWN + row * WINDOW:KNOWN + (row + 1) * WINDOW]
    frame = np.clip(np.round((data.ref[k] + at / 100 - data.at[k]) * 250 + MIDDLE).astype(int), 0, WINDOW - 1)
    margin = 20 * (curve[np.arange(len(k)), frame] - curve[:, 8:28].min(1))
    away = abs(at - out[k, answer])
    n = data.note[k]
    # Repeated notes are left out here, for what gather.mjs writes counts their crossings from half of a rise that is not known any more.
    good = there & (abs(at) < 5.9) & (margin >= np.where(data.slurred[n] > 0, CLEAR_RINGING, CLEAR)) & (away <= AGREEING) & (data.repeated[n] == 0)
    return at, good, margin, away


def rows(data, out, k, which, log):
    at, good, margin, away = measured(data, out, k, which)
    told = np.column_stack([np.ones(len(k)), log, np.minimum(2, margin / 20), away, data.surround[k]])
    return at, good, told
