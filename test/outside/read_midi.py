"""Reads a Standard MIDI File with mido, which shares nothing with this project, and prints what it finds as JSON.

Usage: read_midi.py FILE [--charset latin1]
Times are exact: microseconds are summed as whole numbers over ticks, as fractions, and printed as "n/d" seconds.
"""

import json
import sys
from bisect import bisect_right
from fractions import Fraction

import mido


def main() -> None:
    charset = sys.argv[sys.argv.index("--charset") + 1] if "--charset" in sys.argv else "utf-8"
    midi = mido.MidiFile(sys.argv[1], charset=charset)
    tempi = [(0, 500000)]
    for track in midi.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "set_tempo":
                tempi.append((tick, message.tempo))
    tempi.sort(key=lambda entry: entry[0])
    ticks = [tick for tick, _ in tempi]
    micros = [0]
    for (before, tempo), (after, _) in zip(tempi, tempi[1:]):
        micros.append(micros[-1] + (after - before) * tempo)

    def seconds(tick: int) -> str:
        at = bisect_right(ticks, tick) - 1
        total = micros[at] + (tick - ticks[at]) * tempi[at][1]
        value = Fraction(total, midi.ticks_per_beat * 1_000_000)
        return f"{value.numerator}/{value.denominator}"

    tracks = []
    for track in midi.tracks:
        tick = 0
        name = ""
        open_notes: dict = {}
        notes = []
        found: dict = {"signatures": [], "tempi": [], "markers": [], "lyrics": [], "programs": [], "keys": []}
        for message in track:
            tick += message.time
            kind = message.type
            if kind == "track_name" and not name:
                name = message.name
            elif kind == "time_signature":
                found["signatures"].append([tick, message.numerator, message.denominator])
            elif kind == "set_tempo":
                found["tempi"].append([tick, message.tempo])
            elif kind == "marker":
                found["markers"].append([tick, message.text])
            elif kind == "lyrics":
                found["lyrics"].append([tick, message.text])
            elif kind == "key_signature":
                found["keys"].append([tick, message.key])
            elif kind == "program_change":
                found["programs"].append([tick, message.channel, message.program])
            elif kind == "note_on" and message.velocity > 0:
                note = {"tick": tick, "time": seconds(tick), "channel": message.channel, "key": message.note}
                note |= {"velocity": message.velocity, "end": None}
                notes.append(note)
                open_notes.setdefault((message.channel, message.note), []).append(note)
            elif kind in ("note_off", "note_on"):
                waiting = open_notes.get((message.channel, message.note), [])
                if waiting:
                    waiting.pop(0)["end"] = tick
        tracks.append({"name": name, "end": tick, "notes": notes, **found})
    print(json.dumps({"type": midi.type, "ticks_per_beat": midi.ticks_per_beat, "tracks": tracks}))


main()
