"""The network of a mixture (src/listen/mix/net.ts has the same arithmetic) and how well it does."""

import numpy as np
import torch
from torch import nn

from data import HEARD, KNOWN, REACH, SCORE, STEP, WIDTH, slope

KERNEL = 5


class Net(nn.Module):
    """Convolutions over time; all but the first add to what they are given."""

    def __init__(self, rows=HEARD + SCORE, channels=64, dilations=(1, 2, 4, 8, 4, 2), dropout=0.1):
        super().__init__()
        self.first = nn.Conv1d(rows, channels, KERNEL, padding=KERNEL // 2)
        self.known = nn.Linear(KNOWN + 2, channels, bias=False)
        self.norm = nn.BatchNorm1d(channels)
        self.blocks = nn.ModuleList(
            nn.Conv1d(channels, channels, KERNEL, padding=d * (KERNEL // 2), dilation=d) for d in dilations
        )
        self.norms = nn.ModuleList(nn.BatchNorm1d(channels) for _ in dilations)
        self.drop = nn.Dropout1d(dropout)
        self.last = nn.Conv1d(channels, 2, 1)
        self.dilations = dilations

    def forward(self, rows, constants):
        x = torch.relu(self.norm(self.first(rows) + self.known(constants)[:, :, None]))
        for block, norm in zip(self.blocks, self.norms):
            x = x + self.drop(torch.relu(norm(block(x))))
        return self.last(x)


def folded(net):
    """Weights with the normalisation folded in: first, known, its bias, blocks (weights, bias), last."""
    def fold(conv, norm):
        g = norm.weight / torch.sqrt(norm.running_var + norm.eps)
        return conv.weight * g[:, None, None], (conv.bias - norm.running_mean) * g + norm.bias, g

    with torch.no_grad():
        w, b, g = fold(net.first, net.norm)
        out = {"first.w": w, "first.b": b, "known.w": net.known.weight * g[:, None]}
        for i, (conv, norm) in enumerate(zip(net.blocks, net.norms)):
            w, b, _ = fold(conv, norm)
            out |= {f"block{i}.w": w, f"block{i}.b": b}
        out |= {"last.w": net.last.weight, "last.b": net.last.bias}
        return {k: v.detach().float().cpu().numpy() for k, v in out.items()}


def moments(p):
    """Mean and standard deviation in frames from the middle; mean of what lies within 20 ms of the highest."""
    at = np.arange(WIDTH) - REACH
    mean = p @ at
    sd = np.sqrt(np.maximum(0, p @ (at**2) - mean**2))
    peak = p.argmax(1)
    near = p * (np.abs(at[None] - (peak - REACH)[:, None]) <= 5)
    return mean, sd, (near @ at) / near.sum(1)


def covered(p, away, share):
    """Whether the truth lies within the central interval that holds `share`."""
    cum = np.cumsum(p, 1)
    at = away + REACH + 0.5
    k = np.clip(np.floor(at).astype(int), 0, WIDTH - 1)
    below = np.where(k > 0, np.take_along_axis(cum, np.maximum(k - 1, 0)[:, None], 1)[:, 0], 0)
    level = below + (at - k) * np.take_along_axis(p, k[:, None], 1)[:, 0]
    return np.abs(level - 0.5) <= share / 2


def report(notes, away, p, prior_ms=None):
    """Row by row: F25, F50, median of |error|, slopes of mean and of mode, cover; for the network and for the expected time alone."""
    if prior_ms is not None:
        at = (np.arange(WIDTH) - REACH) * STEP * 1000
        p = p * np.exp(-0.5 * (at / prior_ms) ** 2)[None]
        p = p / p.sum(1, keepdims=True)
    mean, sd, near = moments(p)
    rows = np.array([n["row"] or "-" for n in notes])
    coarse = np.array([n["time"] for n in notes]) / STEP
    out = {}
    for row in sorted(set(rows)) + ["all"]:
        some = np.flatnonzero((rows == row) | (row == "all"))
        these = [notes[i] for i in some]
        figures = []
        for guess in (np.zeros(len(some)), near[some]):
            error = guess - away[some]
            groups = {}
            for i, n in enumerate(these):
                groups.setdefault((n["item"], n["mix"], n["part"]), []).append(i)
            for those in groups.values():
                error[those] -= np.median(error[those])
            ms = np.abs(error) * STEP * 1000
            figures += [np.mean(ms <= 25), np.mean(ms <= 50), np.median(ms)]
        truth = coarse[some] + away[some]
        figures += [slope(these, coarse[some] + mean[some], truth), slope(these, coarse[some] + near[some], truth)]
        figures += [np.mean(covered(p[some], away[some], 0.68)), np.mean(covered(p[some], away[some], 0.95))]
        k = np.clip(np.round(away[some] + REACH).astype(int), 0, WIDTH - 1)
        figures += [-np.mean(np.log(p[some, k] + 1e-9)), np.mean(sd[some]) * STEP * 1000]
        out[row] = (len(some), figures)
    return out


def printed(title, table):
    print(title)
    print(f"  {'row':24}{'n':>6}{'cF25':>7}{'cF50':>7}{'cmed':>6}{'F25':>7}{'F50':>7}{'med':>6}{'slopeM':>8}{'slopeP':>8}{'68':>7}{'95':>7}{'nll':>7}{'sd':>6}")
    for row, (n, f) in table.items():
        print(
            f"  {row:24}{n:6}{f[0]:7.3f}{f[1]:7.3f}{f[2]:6.1f}{f[3]:7.3f}{f[4]:7.3f}{f[5]:6.1f}{f[6]:8.3f}{f[7]:8.3f}{f[8]:7.3f}{f[9]:7.3f}{f[10]:7.3f}{f[11]:6.1f}",
            flush=True,
        )
