"""Writes what a MusicXML file sounds as a Standard MIDI File, and prints its bytes as hexadecimal.

Shares nothing with this project but the file: the standard library's XML parser, fractions, and mido. From the W3C
MusicXML 4.0 documentation (w3.org/2021/06/musicxml40) and Standard MIDI Files 1.0:
- the bars stand once each, in written order; each gets a time signature where its length or metre changes: its own
  metre (sums added up), or, where it is shorter or has none, its own length;
- tied notes are one note; cue and grace notes do not sound; a quarter tone is a pitch bend (range of two semitones);
- unpitched notes go to channel 10 with key 54, "Tambourine" in the General MIDI percussion map;
- sound tempo is in quarters a minute; a metronome mark of two note values makes the second last as long as the first did;
- one track for tempi, metres and keys (those of the first part that does not transpose), then one for each part.
"""

import io
import json
import sys
from fractions import Fraction as Q
from math import lcm

import mido

from count_musicxml import load, number, partwise, sounding_pitch, time_length

UNITS = {"half": Q(1, 2), "quarter": Q(1, 4), "eighth": Q(1, 8), "16th": Q(1, 16)}
MAJOR = {-4: "Ab", -3: "Eb", -2: "Bb", -1: "F", 0: "C", 1: "G", 2: "D", 3: "A", 4: "E"}
MINOR = {-4: "Fm", -3: "Cm", -2: "Gm", -1: "Dm", 0: "Am", 1: "Em", 2: "Bm", 3: "F#m", 4: "C#m"}


def beat_units(metronome):
    units = []
    for item in metronome:
        if item.tag == "beat-unit":
            units.append(UNITS[item.text])
        elif item.tag == "beat-unit-dot":
            units[-1] *= Q(3, 2)
    return units


class Part:
    def __init__(self):
        self.divisions, self.shift, self.quarters = Q(1), Q(0), Q(120)
        self.pieces, self.reach, self.times, self.keys, self.tempi = [], [], [], [], []

    def attributes(self, item, bar, position):
        self.divisions = number(item, "divisions", self.divisions)
        for transpose in item.findall("transpose"):
            self.shift = number(transpose, "chromatic") + 12 * number(transpose, "octave-change", Q(0))
        for key in item.findall("key"):
            self.keys.append((bar, position, int(key.findtext("fifths")), key.findtext("mode")))
        for time in item.findall("time"):
            self.times.append((bar, time))

    def direction(self, item, bar, position):
        for metronome in item.iter("metronome"):
            units = beat_units(metronome)
            if len(units) == 2:
                self.quarters *= units[1] / units[0]
                self.tempi.append((bar, position, self.quarters))
        for sound in item.iter("sound"):
            if sound.get("tempo") is not None:
                self.quarters = Q(sound.get("tempo"))
                self.tempi.append((bar, position, self.quarters))

    def measure(self, measure, bar):
        position = anchor = reach = Q(0)
        for item in measure:
            if item.tag == "attributes":
                self.attributes(item, bar, position)
            elif item.tag == "direction":
                self.direction(item, bar, position)
            elif item.tag in ("backup", "forward"):
                length = number(item, "duration") / (4 * self.divisions)
                position += length if item.tag == "forward" else -length
            elif item.tag == "note" and item.find("grace") is None:
                length = number(item, "duration") / (4 * self.divisions)
                start = anchor if item.find("chord") is not None else position
                if item.find("chord") is None:
                    anchor, position = position, position + length
                if item.find("rest") is None and item.find("cue") is None:
                    ties = {tie.get("type") for tie in item.findall("tie")}
                    self.pieces.append((bar, start, length, sounding_pitch(item, self.shift), ties))
            reach = max(reach, position)
        self.reach.append(reach)


def joined(pieces, starts):
    """Sounding notes [onset, end, pitch] from pieces, ties followed."""
    notes, open_ends = [], {}
    for bar, start, length, pitch, ties in sorted(pieces, key=lambda p: starts[p[0]] + p[1]):
        onset = starts[bar] + start
        note = open_ends.pop((pitch, onset), None) if "stop" in ties else None
        if note is None:
            note = [onset, onset, pitch]
            notes.append(note)
        note[1] = onset + length
        if "start" in ties:
            open_ends[(pitch, note[1])] = note
    return notes


def signatures(times, lengths):
    """(bar, numerator, denominator) wherever one is needed."""
    stated, current, before = dict(times), None, None
    for bar, length in enumerate(lengths):
        current = stated.get(bar, current)
        full = time_length(current)
        if full == length:
            unit = int(current.findtext("beat-type"))
            signature = (int(full * unit), unit)
        else:
            unit = max(4, length.denominator)
            signature = (int(length * unit), unit)
        if signature != before:
            yield bar, *signature
        before = signature


def track(midi, events):
    out, now = midi.add_track(), 0
    for tick, _, message in sorted(events, key=lambda e: e[:2]):
        message.time = tick - now
        out.append(message)
        now = tick


def main(path):
    root = load(path)
    parts = {}
    for pid, measures in partwise(root):
        parts[pid] = Part()
        for bar, measure in enumerate(measures):
            parts[pid].measure(measure, bar)
    first = next(iter(parts.values()))
    lengths = [max(column) for column in zip(*(part.reach for part in parts.values()))]
    starts = [sum(lengths[:bar], Q(0)) for bar in range(len(lengths))]
    sounding = {pid: joined(part.pieces, starts) for pid, part in parts.items()}
    quarters = [4 * q for q in starts + [q for notes in sounding.values() for note in notes for q in note[:2]]]
    per_quarter = lcm(*(q.denominator for q in quarters))
    per_quarter *= -(-480 // per_quarter)

    def tick(position):
        return int(4 * position * per_quarter)

    midi = mido.MidiFile(type=1, ticks_per_beat=per_quarter, charset="utf-8")
    meta = mido.MetaMessage
    events = [(0, 0, meta("track_name", name=root.findtext("work/work-title")))]
    events += [(tick(starts[b]), 1, meta("time_signature", numerator=n, denominator=d)) for b, n, d in signatures(first.times, lengths)]
    concert = next(part for part in parts.values() if part.shift == 0)
    events += [(tick(starts[b] + p), 2, meta("key_signature", key=(MINOR if mode == "minor" else MAJOR)[fifths])) for b, p, fifths, mode in concert.keys]
    events += [(tick(starts[b] + p), 3, meta("set_tempo", tempo=round(60_000_000 / q))) for b, p, q in first.tempi]
    track(midi, events)
    for channel, (pid, notes) in enumerate(sounding.items()):
        listed = root.find(f"part-list/score-part[@id='{pid}']")
        program = listed.findtext("midi-instrument/midi-program")
        if program is None:
            channel = 9
        events = [(0, 0, meta("track_name", name=listed.findtext("part-name")))]
        if program is not None:
            events.append((0, 1, mido.Message("program_change", program=int(program) - 1, channel=channel)))
        for onset, end, pitch in notes:
            key = 54 if pitch is None else pitch.numerator // pitch.denominator
            bend = 0 if pitch is None else int((pitch - key) * 4096)
            if bend:
                events.append((tick(onset), 1, mido.Message("pitchwheel", pitch=bend, channel=channel)))
                events.append((tick(end), 1, mido.Message("pitchwheel", pitch=0, channel=channel)))
            events.append((tick(onset), 2, mido.Message("note_on", note=key, velocity=80, channel=channel)))
            events.append((tick(end), 0, mido.Message("note_off", note=key, velocity=0, channel=channel)))
        track(midi, events)
    out = io.BytesIO()
    midi.save(file=out)
    print(out.getvalue().hex())


main(sys.argv[1])
