"""Writes a Standard MIDI File with mido, which shares nothing with this project, from a JSON description on standard
input, and prints its bytes as hexadecimal.

{"type": 1, "ticks_per_beat": 480, "charset": "utf-8", "tracks": [[[tick, "note_on", {"note": 60, "velocity": 64}], ...]]}
Ticks are absolute; messages and meta messages are named as mido names them.
"""

import io
import json
import sys

import mido


def main() -> None:
    told = json.load(sys.stdin)
    midi = mido.MidiFile(
        type=told["type"], ticks_per_beat=told["ticks_per_beat"], charset=told.get("charset", "utf-8")
    )
    for events in told["tracks"]:
        track = midi.add_track()
        now = 0
        for tick, kind, values in events:
            make = mido.Message if kind in mido.messages.SPEC_BY_TYPE else mido.MetaMessage
            track.append(make(kind, time=tick - now, **values))
            now = tick
    out = io.BytesIO()
    midi.save(file=out)
    print(out.getvalue().hex())


main()
