#!/usr/bin/python3
"""Counts what is in MusicXML files, as an independent check on the reader. Standard library only.

Written from the W3C MusicXML 4.0 documentation (w3.org/2021/06/musicxml40), element by element:
- duration: "a positive number specified in division units", divisions per quarter note; divisions state the unit.
  Assumed: where a part states none, the unit is 1 (the public MusicXML test suite, 03e: "the generally agreed default
  value"). Printed note values are never consulted, so a file whose values say otherwise differs here from a reader that
  mends it. Divisions that are not above zero are against the standard: such a file is named as unreadable.
- backup and forward move the position in the measure; a chord note begins with the note before it.
- a backup beyond the beginning of its measure, against the standard, stops there (one suite file has it).
- grace notes have no duration; a cue note "is a silent note with no playback".
- tie: "indicates that a tie begins or ends with this note" for sound; tied is its notation. A note counts as tied
  on if it has tie or, lacking any, tied.
- transpose: sounding pitch is written pitch plus chromatic plus twelve times octave-change, from there on.
- a measure lasts as long as the furthest position any part reaches; an empty one lasts its time signature.

Usage: count_musicxml.py FILE... ; prints one JSON object, by file name.
"""
import io
import json
import os
import sys
import zipfile
import xml.etree.ElementTree as ET
from fractions import Fraction as Q

STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def load(path):
    with open(path, "rb") as handle:
        data = handle.read()
    if data[:2] == b"PK":
        archive = zipfile.ZipFile(io.BytesIO(data))
        container = ET.fromstring(archive.read("META-INF/container.xml"))
        name = next(e.get("full-path") for e in container.iter() if e.tag.split("}")[-1] == "rootfile")
        data = archive.read(name)
    return ET.fromstring(data)


def partwise(root):
    """[(id, [measure element, ...])] for both kinds of document."""
    if root.tag == "score-partwise":
        return [(p.get("id"), p.findall("measure")) for p in root.findall("part")]
    parts = {}
    for measure in root.findall("measure"):
        for part in measure.findall("part"):
            parts.setdefault(part.get("id"), []).append(part)
    return list(parts.items())


def time_length(time):
    if time.find("senza-misura") is not None:
        return None
    total = Q(0)
    for beats, kind in zip(time.findall("beats"), time.findall("beat-type")):
        total += Q(sum(int(b) for b in beats.text.split("+")), int(kind.text))
    return total


def number(element, tag, default=None):
    text = element.findtext(tag)
    return default if text is None else Q(text.strip())


def sounding_pitch(note, shift):
    pitch = note.find("pitch")
    if pitch is None:
        return None
    return 12 * (int(pitch.findtext("octave")) + 1) + STEPS[pitch.findtext("step").strip()] + number(pitch, "alter", Q(0)) + shift


def read_part(measures):
    """Per measure: how far it reaches, its time signature if it states one, and its notes."""
    divisions, shift = Q(1), Q(0)
    result = []
    for measure in measures:
        position, reach, anchor, time = Q(0), Q(0), Q(0), None
        notes, graces = [], 0
        for item in measure:
            if item.tag == "attributes":
                divisions = number(item, "divisions", divisions)
                if divisions <= 0:
                    raise ValueError(f"divisions of {divisions}")
                for transpose in item.findall("transpose"):
                    shift = number(transpose, "chromatic") + 12 * number(transpose, "octave-change", Q(0))
                    break
                if item.find("time") is not None:
                    time = time or item.find("time")
            elif item.tag == "backup":
                position = max(Q(0), position - number(item, "duration") / (4 * divisions))
            elif item.tag == "forward":
                position += number(item, "duration") / (4 * divisions)
                reach = max(reach, position)
            elif item.tag == "note":
                if item.find("grace") is not None:
                    graces += item.find("rest") is None
                    continue
                length = number(item, "duration") / (4 * divisions)
                start = anchor if item.find("chord") is not None else position
                if item.find("chord") is None:
                    anchor, position = position, position + length
                reach = max(reach, start + length)
                if item.find("rest") is not None or item.find("cue") is not None:
                    continue
                ties = [t.get("type") for t in item.findall("tie")]
                ties = ties or [t.get("type") for t in item.findall("notations/tied")]
                unpitched = item.find("unpitched")
                drawn = None if unpitched is None else (unpitched.findtext("display-step"), unpitched.findtext("display-octave"))
                notes.append((start, length, sounding_pitch(item, shift), drawn, "start" in ties, "stop" in ties))
        result.append((reach, time, notes, graces))
    return result


def count(path):
    root = load(path)
    parts = [(pid, read_part(measures)) for pid, measures in partwise(root)]
    bars = max(len(m) for _, m in parts)
    starts, lengths, position, full = [], [], Q(0), Q(1)
    for index in range(bars):
        here = [m[index] for _, m in parts if index < len(m)]
        times = [t for _, t, _, _ in here if t is not None]
        if times:
            full = time_length(times[0])
        length = max(r for r, _, _, _ in here)
        if length == 0:
            length = full
        starts.append(position)
        lengths.append(length)
        position += length
    out = {"bars": bars, "length": str(position), "parts": {}}
    for pid, measures in parts:
        pieces, graces = [], 0
        for index, (_, _, notes, g) in enumerate(measures):
            graces += g
            pieces += [(starts[index] + s, l, p, d, a, b) for s, l, p, d, a, b in notes]
        pieces.sort(key=lambda piece: piece[0])
        open_ends, sounding, onset_sum, duration_sum, midi_sum = {}, 0, Q(0), Q(0), Q(0)
        for onset, length, midi, drawn, starts_tie, stops_tie in pieces:
            key = (midi, drawn)
            waiting = open_ends.setdefault(key, [])
            joins = stops_tie and onset in waiting
            if joins:
                waiting.remove(onset)
            else:
                sounding += 1
                onset_sum += onset
                midi_sum += midi or 0
            duration_sum += length
            if starts_tie:
                waiting.append(onset + length)
        out["parts"][pid] = {
            "notes": sounding,
            "graces": graces,
            "onsets": str(onset_sum),
            "durations": str(duration_sum),
            "midi": str(midi_sum),
        }
    return out


if __name__ == "__main__":
    result = {}
    for path in sys.argv[1:]:
        try:
            result[os.path.basename(path)] = count(path)
        except Exception as error:  # a file that this program can not read is named, not hidden
            result[os.path.basename(path)] = {"error": f"{type(error).__name__}: {error}"}
    json.dump(result, sys.stdout)
