#!/usr/bin/python3
"""Counts what is in Humdrum **kern files, as an independent check on the reader. Standard library only.

Written from the Humdrum User's Guide (humdrum.org/guide, chapters 2, 5 and 6) and the reference of **kern, **recip and
barlines (humdrum.org/rep), rule by rule:
- records beginning with "!" are comments, with "*" interpretations, all others data; tabs separate spines.
- "*-" ends a spine, "*^" splits it, neighbours with "*v" join, two "*x" change places, "*+" adds one to the right.
- a token's numerals are its duration: n is 1/n of a whole note, 0 a breve, each dot adds half of what the last added; a%b is
  b/a (humdrum.org/humextra/rhythm). Space joins notes that begin together; they advance by the first of them.
- notes with q or Q take no time. Tokens on one line begin together; a spine that has split begins with its line.
- c is C4, cc C5, C is C3, CC C2; # and - a semitone up and down; letters with r are rests.
- "[" begins a tie, "_" goes on, "]" ends it: the notes are one.
- "=" begins a bar. All spines begin it together, at the furthest that any of them reached.
- where all notes of a token bear R, or the clef is X, they are drums without pitch (later practice, from memory).
- notes with the sign that an RDF record calls a cue do not sound.
- spines with the same *part number are one part; without numbers each spine is one.
Assumed: "rr" lasts as long as it says and never makes a bar longer than other music in it.

Usage: count_kern.py FILE... ; prints one JSON object, by file name.
"""
import json
import os
import re
import sys
from fractions import Fraction as Q

STEP = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def duration(text):
    found = re.search(r"(\d+)(?:%(\d+))?(\.*)", text)
    if found is None:
        return None
    digits, below, dots = found.groups()
    value = Q(2) ** len(digits) if set(digits) == {"0"} else Q(int(below or 1), int(digits))
    return value * (2 - Q(1, 2 ** len(dots)))


def midi(text):
    found = re.search(r"([a-g]+|[A-G]+)([#-]*)", text)
    letters, marks = found.groups()
    octave = 3 + len(letters) if letters.islower() else 4 - len(letters)
    alter = marks.count("#") - marks.count("-")
    return 12 * (octave + 1) + STEP[letters[0].upper()] + alter


class Spine:
    def __init__(self, kind, name):
        self.kind, self.name, self.part, self.drums = kind, name, None, False


class Column:
    """One column: its spine, when its next note begins, and whether that is still open."""

    def __init__(self, spine, at, fresh):
        self.spine, self.at, self.fresh = spine, at, fresh


def follow(columns, tokens, now):
    """The columns after a line of interpretations."""
    out, index = [], 0
    while index < len(columns):
        column, token = columns[index], tokens[index]
        if token == "*^":
            out += [column, Column(column.spine, column.at, True)]
        elif token == "*+":
            out += [column, Column(Spine("", ""), now, True)]
        elif token == "*x":
            out += [columns[index + 1], column]
            index += 1
        elif token == "*v":
            last = index
            while last + 1 < len(columns) and tokens[last + 1] == "*v":
                last += 1
            used = [c.at for c in columns[index : last + 1] if not c.fresh]
            out.append(Column(column.spine, max(used) if used else column.at, not used))
            index = last
        elif token != "*-":
            if token.startswith("**"):
                column.spine = Spine(token[2:], len(out))
            elif re.match(r"\*part\d", token):
                column.spine.part = int(token[5:])
            elif token.startswith("*clef"):
                column.spine.drums = token.startswith("*clefX")
            out.append(column)
        index += 1
    return out


def count(path):
    with open(path, encoding="utf-8") as handle:
        lines = handle.read().splitlines()
    cues = [re.match(r"!!!RDF\*\*kern:\s*(\S)\s*=.*\bcue(?![ -]?size)", line) for line in lines]
    cue = [found.group(1) for found in cues if found]
    columns, spines, begun = [], [], Q(0)
    bars, music, reach, resting = 0, False, Q(0), Q(0)
    notes, graces, ties = {}, {}, {}
    for line in lines:
        if line.startswith("!") or not line.strip():
            continue
        tokens = line.split("\t")
        if line.startswith("**") and not columns:
            columns = [Column(Spine(token[2:], index), begun, False) for index, token in enumerate(tokens)]
            spines += [column.spine for column in columns if column.spine.kind == "kern"]
            continue
        if len(tokens) != len(columns):
            raise ValueError(f"{len(tokens)} tokens for {len(columns)} spines: {line[:60]}")
        if line.startswith("*"):
            now = max([c.at for c in columns if c.spine.kind == "kern" and not c.fresh] or [begun])
            columns = follow(columns, tokens, now)
            for column in columns:
                if column.spine.kind == "kern" and column.spine not in spines:
                    spines.append(column.spine)
            continue
        if line.startswith("="):
            bars += music
            end = reach if reach > begun else resting
            if music:
                begun = max(begun, end)
            for column in columns:
                column.at = begun
            music, reach, resting = False, begun, begun
            continue
        music = True
        starting = [(c, t) for c, t in zip(columns, tokens) if c.spine.kind == "kern" and t != "."]
        settled = [c.at for c, _ in starting if not c.fresh]
        time = settled[0] if settled else (starting[0][0].at if starting else None)
        for column, token in starting:
            onset = time if column.fresh else column.at
            column.fresh = False
            pieces = token.split(" ")
            grace = re.search("[qQ]", pieces[0])
            length = Q(0) if grace else duration(pieces[0])
            for piece in pieces:
                if "r" in piece:
                    continue
                if grace:
                    graces[column.spine] = graces.get(column.spine, 0) + 1
                    continue
                if any(sign in piece for sign in cue):
                    continue
                drum = column.spine.drums or "R" in piece
                key = None if drum else midi(piece)
                own = duration(piece)
                waiting = ties.get((column.spine, key, onset)) if re.search(r"[\]_]", piece) else None
                if waiting:
                    note = waiting.pop()
                    note[1] += own
                else:
                    note = [onset, own, key]
                    notes.setdefault(column.spine, []).append(note)
                if re.search(r"[\[_]", piece):
                    ties.setdefault((column.spine, key, onset + own), []).append(note)
            column.at = onset + length
            if "rr" in pieces[0] and onset == begun:
                resting = max(resting, column.at)
            else:
                reach = max(reach, column.at)
    bars += music
    end = max(begun, reach if reach > begun else resting)
    numbered = all(spine.part is not None for spine in spines)
    parts = {}
    for index, spine in enumerate(spines):
        entry = parts.setdefault(
            str(spine.part) if numbered else f"spine {index}",
            {"notes": 0, "graces": 0, "onsets": Q(0), "durations": Q(0), "midi": 0},
        )
        own = notes.get(spine, [])
        entry["notes"] += len(own)
        entry["graces"] += graces.get(spine, 0)
        entry["onsets"] += sum((n[0] for n in own), Q(0))
        entry["durations"] += sum((n[1] for n in own), Q(0))
        entry["midi"] += sum(n[2] or 0 for n in own)
    for entry in parts.values():
        entry["onsets"], entry["durations"] = str(entry["onsets"]), str(entry["durations"])
    return {"bars": bars, "length": str(end), "parts": list(parts.values()), "numbers": list(parts)}


if __name__ == "__main__":
    result = {}
    for path in sys.argv[1:]:
        try:
            result[os.path.basename(path)] = count(path)
        except Exception as error:  # a file that this program can not read is named, not hidden
            result[os.path.basename(path)] = {"error": f"{type(error).__name__}: {error}"}
    json.dump(result, sys.stdout)
