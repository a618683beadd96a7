"""Compares the clicks in a recording with a drill's timeline. Standard library only; shares nothing with the program.

usage: live_clicks.py RECORDING.wav timeline.json [click.wav]

An onset is the first sample other than zero after 4 ms of exact zero. The recording began at some moment of its own:
the first click says when; all others have to follow it as the timeline's samples follow its first click. With a click
track of 32 bits, its samples from the first click of the music on are compared with those of the recording.
"""
import array
import json
import mmap
import sys

from wav_clicks import layout, spans


def main():
    recording, timeline, *track = sys.argv[1:]
    with open(timeline) as file:
        told = json.load(file)
    with open(recording, "rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
        info = layout(data)
        assert info["rate"] == told["sampleRate"], (info["rate"], told["sampleRate"])
        heard = [onset for onset, _ in spans(data, info, info["rate"] * 4 // 1000)]
        samples = array.array("f", data[info["start"]:info["start"] + info["frames"] * info["align"]])
        peak = max(max(samples), -min(samples))
    wanted = [click["sample"] for click in told["clicks"]]
    shift = heard[0] - wanted[0] if heard and wanted else 0
    differences = [a - b - shift for a, b in zip(heard, wanted)]
    same = None
    if track:
        with open(track[0], "rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
            info = layout(data)
            written = array.array("f", data[info["start"]:info["start"] + info["frames"] * info["align"]])
        begin = min(click["sample"] for click in told["clicks"] if click["kind"] == "click")
        same = written[begin:] == samples[begin + shift:len(written) + shift]
    json.dump(dict(same=same, clicks=len(wanted), heard=len(heard), first=heard[0] if heard else None, peak=peak,
                   largest=max((abs(value) for value in differences), default=None)), sys.stdout)


if __name__ == "__main__":
    main()
