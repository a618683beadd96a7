"""Where tones begin and end in a WAV file, channel by channel. Standard library only; shares nothing with the program.

usage: onsets.py FILE [--zeros N]

An onset is the first sample other than zero after at least N samples of exact zero (default: 2 ms) or at the start; an
end is the first sample of such a run. 16 bits only. Prints for each channel: onsets, ends, the largest sample and the
root of the mean square over what sounds, both in dBFS.
"""
import array
import json
import math
import struct
import sys


def read(path):
    """Plain and extensible PCM of 16 bits."""
    with open(path, "rb") as file:
        data = file.read()
    assert data[:4] == b"RIFF" and data[8:12] == b"WAVE"
    at, found = 12, {}
    while at < len(data):
        name, size = struct.unpack_from("<4sI", data, at)
        found[name] = data[at + 8:at + 8 + size]
        at += 8 + size + size % 2
    tag, channels, rate, _, _, bits = struct.unpack_from("<HHIIHH", found[b"fmt "])
    assert bits == 16 and tag in (1, 0xFFFE)
    samples = array.array("h", found[b"data"])
    if sys.byteorder == "big":
        samples.byteswap()
    return rate, [samples[channel::channels] for channel in range(channels)]


def level(value):
    return 20 * math.log10(value / 32768) if value > 0 else None


def channel_report(samples, zeros):
    onsets, ends, silent, squares, count, largest = [], [], zeros, 0, 0, 0
    for n, value in enumerate(samples):
        if value == 0:
            silent += 1
            if silent == zeros and onsets:
                ends.append(n - zeros + 1)
            continue
        if silent >= zeros:
            onsets.append(n)
        silent = 0
        squares += value * value
        count += 1
        largest = max(largest, abs(value))
    if len(ends) < len(onsets):
        ends.append(len(samples) - silent)
    return dict(onsets=onsets, ends=ends, peak=level(largest), rms=level(math.sqrt(squares / count)) if count else None)


def main():
    rate, channels = read(sys.argv[1])
    zeros = int(sys.argv[3]) if len(sys.argv) > 3 else rate // 500
    json.dump(dict(rate=rate, frames=len(channels[0]), channels=[channel_report(c, zeros) for c in channels]), sys.stdout)


main()
