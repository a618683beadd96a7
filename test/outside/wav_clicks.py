"""Reads a WAV file and says where its clicks begin. Standard library only; shares nothing with the program under test.

usage: wav_clicks.py FILE [--zeros N] [--per-minute 133.33] [--steps 1 | --steps 2,2,3]

An onset is the first sample other than zero after at least N samples of exact zero (default: 4 ms), or at the very
start of the file. All channels of a frame count as one sample.

With --per-minute the samples expected are worked out here, from the tempo alone, in exact fractions: unit number k
(counted in steps, over and over) begins at k * 60 / per-minute seconds, and so on sample floor(t * rate + 1/2).
"""
import argparse
import array
import json
import math
import mmap
import re
import struct
import sys
from fractions import Fraction

PCM, FLOAT, EXTENSIBLE = 1, 3, 0xFFFE
NON_ZERO = re.compile(rb"[^\x00]")


def chunks(data):
    """Name, start and size of each chunk (RIFF: even starts, sizes without padding)."""
    assert data[:4] == b"RIFF" and data[8:12] == b"WAVE", "no RIFF/WAVE"
    riff = struct.unpack_from("<I", data, 4)[0]
    assert riff == len(data) - 8, f"RIFF size {riff}, file has {len(data)} bytes"
    at = 12
    while at < len(data):
        name, size = struct.unpack_from("<4sI", data, at)
        assert at + 8 + size <= len(data), f"{name} runs past the end"
        yield name, at + 8, size
        at += 8 + size + size % 2


def layout(data):
    found = {name: (at, size) for name, at, size in chunks(data)}
    at, size = found[b"fmt "]
    tag, channels, rate, per_second, align, bits = struct.unpack_from("<HHIIHH", data, at)
    extensible = tag == EXTENSIBLE
    if extensible:
        extra, _valid, _mask, tag = struct.unpack_from("<HHIH", data, at + 16)
        assert size == 40 and extra == 22
        assert bytes(data[at + 26:at + 40]) == bytes.fromhex("000000001000800000aa00389b71")
    assert tag in (PCM, FLOAT), tag
    assert align == channels * bits // 8 and per_second == rate * align
    start, length = found[b"data"]
    assert length % align == 0
    if tag == FLOAT:
        fact_at, _ = found[b"fact"]
        assert struct.unpack_from("<I", data, fact_at)[0] == length // align
    return dict(rate=rate, channels=channels, bits=bits, float=tag == FLOAT, extensible=extensible,
                align=align, start=start, frames=length // align)


def values(raw, bits, is_float):
    """Samples as numbers, full scale 1."""
    if is_float:
        items, full = array.array("f", raw), 1
    elif bits == 16:
        items, full = array.array("h", raw), 1 << 15
    else:
        assert bits == 24
        return [int.from_bytes(raw[i:i + 3], "little", signed=True) / (1 << 23) for i in range(0, len(raw), 3)]
    if sys.byteorder == "big":
        items.byteswap()
    return [item / full for item in items]


def spans(data, info, zeros):
    """(first sample, sample after the last) of each stretch of sound, cut wherever `zeros` samples are zero."""
    start, align = info["start"], info["align"]
    stop = start + info["frames"] * align
    needle = bytes(zeros * align)
    at = start
    while True:
        hit = NON_ZERO.search(data, at, stop)
        if hit is None:
            return
        onset = (hit.start() - start) // align
        at = hit.start()
        while True:
            run = data.find(needle, at, stop)
            if run < 0:
                # Too little is left for such a run: the sound ends with its last byte that is not zero.
                tail = bytes(data[at:stop]).rstrip(b"\x00")
                yield onset, -(-(at + len(tail) - start) // align)
                return
            after = NON_ZERO.search(data, run, stop)
            first = -(-(run - start) // align)
            last = info["frames"] if after is None else (after.start() - start) // align
            if after is None or last - first >= zeros:
                yield onset, first
                at = run
                break
            at = after.start()


def expected(rate, frames, per_minute, steps):
    samples, unit, k = [], Fraction(60) / Fraction(per_minute), 0
    while True:
        for step in steps:
            sample = math.floor(k * unit * rate + Fraction(1, 2))
            if sample >= frames:
                return samples
            samples.append(sample)
            k += step


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("file")
    parser.add_argument("--zeros", type=int)
    parser.add_argument("--per-minute")
    parser.add_argument("--steps", default="1")
    args = parser.parse_args()
    with open(args.file, "rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
        info = layout(data)
        zeros = args.zeros or info["rate"] * 4 // 1000
        peak, shapes, onsets, kinds, lengths, firsts, silences, end = 0, {}, [], [], [], [], [], None
        for onset, after in spans(data, info, zeros):
            raw = bytes(data[info["start"] + onset * info["align"]:info["start"] + after * info["align"]])
            if raw not in shapes:
                sound = values(raw, info["bits"], info["float"])
                loudest = max(abs(value) for value in sound)
                shapes[raw] = (len(shapes), loudest, abs(sound[0]) / loudest)
            kind, loudest, first = shapes[raw]
            peak = max(peak, loudest)
            onsets.append(onset)
            kinds.append(kind)
            firsts.append(first)
            lengths.append(after - onset)
            if end is not None:
                silences.append(onset - end)
            end = after
        report = dict(
            rate=info["rate"], channels=info["channels"], bits=info["bits"], float=info["float"],
            extensible=info["extensible"], frames=info["frames"], zeros=zeros, count=len(onsets), onsets=onsets,
            # The same number: the same samples, from onset to end.
            shapes=kinds,
            peak_dbfs=20 * math.log10(peak) if peak else None,
            # First sample of a click against its largest.
            least_first_sample=min(firsts, default=None),
            longest_click=max(lengths, default=None),
            shortest_silence=min(silences, default=None),
            longest_silence=max(silences, default=None),
            silence_at_end=info["frames"] - (end or 0),
        )
        if args.per_minute:
            steps = [int(step) for step in args.steps.split(",")]
            want = expected(info["rate"], info["frames"], args.per_minute, steps)
            report["expected_count"] = len(want)
            report["differences"] = [pair for pair in zip(onsets, want) if pair[0] != pair[1]][:10]
            report["equal"] = onsets == want
    json.dump(report, sys.stdout)


if __name__ == "__main__":
    main()
