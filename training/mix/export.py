"""
Writes fitted weights as src/listen/mix/netModel.ts, and what torch makes of one made-up input for the test of the arithmetic:

    python3 export.py nets.npz [--again] 48/1 [48/0 ...] [--temperature 1] --out ../../src/listen/mix/netModel.ts --fixture ../../test/listen/fixtures/mixNet.json
"""

import argparse
import base64
import json

import numpy as np

DILATIONS = (1, 2, 4, 8, 4, 2)
HEARD, SCORE, BELIEFS, KNOWN, WIDTH = 29, 20, 5, 16, 91

parser = argparse.ArgumentParser()
parser.add_argument("nets")
parser.add_argument("names", nargs="+")
parser.add_argument("--again", action="store_true")
parser.add_argument("--temperature", type=float, default=1)
parser.add_argument("--out", required=True)
parser.add_argument("--fixture", required=True)
args = parser.parse_args()
store = np.load(args.nets)


def packed(a):
    a = np.asarray(a, np.float64).ravel()
    scale = float(f"{max(1e-12, np.abs(a).max()) / 32767:.7g}")
    whole = np.clip(np.round(a / scale), -32768, 32767).astype("<i2")
    return f"{{ scale: {scale!r}, text: '{base64.b64encode(whole.tobytes()).decode()}' }}", whole * scale


def convolution(name, dilation, divide=1.0):
    w, ww = packed(store[f"{name}.w"] / divide)
    b, bb = packed(store[f"{name}.b"] / divide)
    text = f"{{\n weights: {w},\n biases: {b},\n dilation: {dilation},\n}}"
    return text, (ww.reshape(store[f"{name}.w"].shape), bb)


def conv(x, weights, biases, dilation):
    outs, _, k = weights.shape
    pad = (k - 1) // 2 * dilation
    p = np.pad(x, ((0, 0), (pad, pad)))
    y = np.repeat(biases[:, None], x.shape[1], 1)
    for j in range(k):
        y += weights[:, :, j] @ p[:, j * dilation : j * dilation + x.shape[1]]
    return y


ROWS = HEARD + SCORE + (BELIEFS if args.again else 0)
rows = np.sin(0.37 * np.arange(ROWS * WIDTH)).reshape(ROWS, WIDTH)
constants = np.cos(np.arange(KNOWN))
texts, answers = [], []
for name in args.names:
    first, (w, b) = convolution(f"{name}/first", 1)
    known, k = packed(store[f"{name}/known.w"])
    k = k.reshape(store[f"{name}/known.w"].shape)
    blocks = []
    x = np.maximum(0, conv(rows, w, b, 1) + (k @ constants)[:, None])
    for i, d in enumerate(DILATIONS):
        text, (w, b) = convolution(f"{name}/block{i}", d)
        blocks.append(text)
        x = x + np.maximum(0, conv(x, w, b, d))
    last, (w, b) = convolution(f"{name}/last", 1, args.temperature)
    y = conv(x, w, b, 1)
    e = np.exp(y - y.max(1, keepdims=True))
    answers.append(e / e.sum(1, keepdims=True))
    texts.append(f"{{\n first: {first},\n known: {known},\n blocks: [{', '.join(blocks)}],\n last: {last},\n}}")
with open(args.out, "w") as f:
    f.write("/** Weights of the network of a mixture. Written by training/mix/export.py; not to be edited. */\n")
    f.write("import type { PackedMixNet } from './net.ts';\n\n")
    f.write(f"export const mixModel{'Again' if args.again else ''}: readonly PackedMixNet[] = [{', '.join(texts)}];\n")
with open(args.fixture, "w") as f:
    mean = np.mean(answers, 0)
    json.dump({"beat": [round(float(v), 7) for v in mean[0]], "start": [round(float(v), 7) for v in mean[1]]}, f)
    f.write("\n")
