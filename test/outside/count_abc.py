#!/usr/bin/python3
"""An independent reading of ABC, written from the ABC standard 2.1 (December 2011) and sharing nothing with the reader
that it checks: bars, notes and exact sums by voice. Prints JSON for the files named on the command line.

It reads what the standard's examples and the project's own pieces use: K M L V I X fields, inline fields, %%score not
at all (voices are counted one by one), notes, rests, chords, grace notes, broken rhythm, tuplets, ties, overlays, bar lines.
"""
import json
import os
import re
import sys
from fractions import Fraction as Q

LETTERS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
SHARPS = "FCGDAEB"
MODES = {"maj": 0, "ion": 0, "": 0, "m": -3, "min": -3, "aeo": -3, "mix": -1, "dor": -2, "phr": -4, "loc": -5, "lyd": 1}

# What may stand in a line of music, tried in this order.
TOKEN = re.compile(
    r"""(?P<inline>\[[A-Za-z]:[^\]]*\])
      |(?P<text>"[^"]*"|![^!\s]+!)
      |(?P<bar>\.?(?:\[\|\]|:*\|[|\]:]*|\[\|+[\]:]*|::+)(?:\[?[0-9][0-9,\-]*)?|\[[0-9][0-9,\-]*)
      |(?P<tuplet>\([0-9](?::[0-9]*){0,2})
      |(?P<grace>\{[^}]*\})
      |(?P<chord>\[[^\]|]+\][0-9/]*)
      |(?P<note>(?:\^\^|__|\^/|_/|[\^_=])?[A-Ga-g][,']*[0-9/]*)
      |(?P<rest>[zx][0-9/]*)
      |(?P<bars>[ZX][0-9]*)
      |(?P<broken>[<>]+)
      |(?P<tie>-)
      |(?P<overlay>&+)
      |(?P<other>.)""",
    re.X,
)
HEAD = re.compile(r"(\^\^|__|\^/|_/|[\^_=])?([A-Ga-g])([,']*)([0-9/]*)(-?)")


def factor(text):
    if text == "":
        return Q(1)
    above, slashes, below = re.fullmatch(r"(\d*)(/*)(\d*)", text).groups()
    value = Q(int(above or 1))
    if below:
        return value / int(below)
    return value / 2 ** len(slashes)


def key_of(text):
    """Alterations by letter, of the first word with a tonic; None where the field names no key."""
    words = [w for w in re.sub(r'[a-z]+="[^"]*"|[a-z]+=\S+', " ", text).split() if w not in ("treble", "bass", "alto", "tenor", "perc")]
    if not words:
        return {} if text.strip() == "" else None
    if words[0].lower() == "none":
        return {}
    match = re.fullmatch(r"([A-G])([#b]?)(\w*)", words[0])
    if not match:
        return None
    mode = match.group(3) or (words[1] if len(words) > 1 and words[1].isalpha() else "")
    fifths = SHARPS.index(match.group(1)) - 1 + {"": 0, "#": 7, "b": -7}[match.group(2)] + MODES[mode.lower()[:3]]
    if fifths >= 0:
        return {letter: 1 for letter in SHARPS[:fifths]}
    return {letter: -1 for letter in SHARPS[::-1][:-fifths]}


def metre_of(text):
    """Length of a bar, 0 for none; and whether it is compound."""
    text = text.strip()
    if text in ("C", "C|"):
        return Q(1), False
    if text in ("", "none"):
        return Q(0), False
    top, bottom = text.replace("(", "").replace(")", "").split("/")
    count = sum(int(n) for n in top.split("+"))
    return Q(count, int(bottom)), "+" not in top and count in (6, 9, 12)


class Voice:
    def __init__(self, tune):
        self.key, self.full, self.compound, self.unit = dict(tune.key), tune.full, tune.compound, tune.unit
        self.octave, self.transpose, self.drum, self.eight = 0, 0, False, 0
        # Each bar: the metre's length where the voice states one, layers of groups, and whether it is a bar's rest.
        self.stated = self.full
        self.bars = [self.bar()]
        self.graces = 0
        self.tuplets, self.broken, self.accidentals = [], Q(1), {}
        self.layer, self.cursor, self.front = 0, 0, None

    def bar(self):
        bar = {"full": self.stated, "layers": [[]], "whole": False}
        self.stated = None
        return bar

    def settings(self, text):
        text = re.sub(r"^\s*none\b", "", text)  # "K:none" speaks of the key, not of the clef
        clef = re.search(r"\b(treble|bass|alto|tenor|perc|none)\d?([+-]8)?", re.sub(r'[a-z]+="[^"]*"', "", text))
        if clef:
            self.drum = clef.group(1) == "perc"
            self.eight = {"+8": 12, "-8": -12, None: 0}[clef.group(2)]
        for name, value in re.findall(r"\b(octave|transpose|t)=([+-]?\d+)", text):
            if name == "octave":
                self.octave = 12 * int(value)
            else:
                self.transpose = int(value)

    def here(self):
        return self.bars[self.cursor]

    def filled(self):
        return any(len(layer) for layer in self.here()["layers"]) or self.here()["whole"]

    def pitch(self, sign, letter, octaves, reach):
        step = letter.upper()
        midi = (60 if letter.isupper() else 72) + LETTERS[step]
        midi += 12 * (octaves.count("'") - octaves.count(","))
        name = step if reach == "pitch" else (step, midi)
        tied = {(s, m): a for s, m, a in self.waiting()}
        if sign:
            alter = {"^^": 2, "^": 1, "=": 0, "_": -1, "__": -2, "^/": Q(1, 2), "_/": Q(-1, 2)}[sign]
            if reach != "not":
                self.accidentals[name] = alter
        elif (step, midi) in tied:
            alter = tied[step, midi]
        else:
            alter = self.accidentals.get(name, self.key.get(step, 0))
        return midi + alter + self.octave + self.eight + self.transpose, (step, midi, alter)

    def waiting(self):
        """Step, place and alteration of what the last group of this layer ties over."""
        for index in range(self.cursor, -1, -1):
            layers = self.bars[index]["layers"]
            if len(layers) > self.layer and layers[self.layer]:
                last = layers[self.layer][-1]
                return [drawn for drawn, tie in zip(last["drawn"], last["ties"]) if tie]
            if self.bars[index]["whole"]:
                return []
        return []

    def add(self, length, heads):
        ratio, going = Q(1), []
        for tuplet in self.tuplets:
            ratio *= tuplet[0]
            tuplet[1] -= 1
            if tuplet[1] > 0:
                going.append(tuplet)
            else:
                break
        self.tuplets = going
        length *= self.broken
        self.broken = Q(1)
        group = {
            "length": length,
            "ratio": ratio,
            "pitches": [midi for (midi, _), _ in heads],
            "drawn": [drawn for (_, drawn), _ in heads],
            "ties": [tie for _, tie in heads],
        }
        layers = self.here()["layers"]
        while len(layers) <= self.layer:
            layers.append([])
        layers[self.layer].append(group)

    def last(self):
        return self.here()["layers"][self.layer][-1]

    def next_bar(self):
        self.accidentals = {}
        if self.front is not None and self.cursor < self.front:
            self.cursor += 1
            if self.cursor == self.front:
                self.front, self.layer = None, 0
            return
        self.front, self.layer = None, 0
        self.bars.append(self.bar())
        self.cursor = len(self.bars) - 1


class Tune:
    def __init__(self, reach):
        self.key, self.full, self.compound, self.unit = {}, Q(0), False, None
        self.reach, self.voices, self.settings, self.current = reach, {}, {}, None
        self.key_text = ""

    def voice(self, name):
        if name not in self.voices:
            if self.unit is None:
                self.unit = Q(1, 16) if 0 < self.full < Q(3, 4) else Q(1, 8)
            self.voices[name] = Voice(self)
            self.voices[name].settings(self.key_text)
            self.voices[name].settings(self.settings.get(name, ""))
        return self.voices[name]

    def field(self, letter, text, header):
        voice = self.current
        if letter == "V":
            name, _, rest = text.strip().partition(" ")
            if header:
                self.settings[name] = self.settings.get(name, "") + " " + rest
            else:
                self.current = self.voice(name)
                self.current.settings(rest)
        elif letter == "M":
            if voice is None:
                self.full, self.compound = metre_of(text)
            else:
                voice.full, voice.compound = metre_of(text)
                if voice.filled():
                    voice.stated = voice.full
                else:
                    voice.here()["full"] = voice.full
        elif letter == "L":
            value = Q(text.strip())
            if voice is None:
                self.unit = value
            else:
                voice.unit = value
        elif letter == "K":
            key = key_of(text)
            if voice is None:
                self.key, self.key_text = key or {}, text
            else:
                voice.key = voice.key if key is None else key
                voice.settings(text)
        elif letter == "I" and text.startswith("propagate-accidentals"):
            self.reach = text.split()[1]

    def music(self, line):
        for token in TOKEN.finditer(line):
            kind, text = token.lastgroup, token.group()
            if kind == "inline":
                self.field(text[1], text[3:-1], False)
                continue
            if kind in ("text", "other"):
                continue
            if self.current is None:
                self.current = self.voice(next(iter(self.settings), "P1"))
            voice = self.current
            if kind == "bar":
                if voice.front is not None or voice.filled():
                    voice.next_bar()
            elif kind == "note":
                sign, letter, octaves, length, _ = HEAD.match(text).groups()
                voice.add(voice.unit * factor(length), [(voice.pitch(sign, letter, octaves, self.reach), False)])
            elif kind == "chord":
                inner, outer = text[1:].split("]")
                heads, first = [], None
                for sign, letter, octaves, length, tie in HEAD.findall(re.sub(r'![^!]*!|"[^"]*"', "", inner)):
                    first = factor(length) if first is None else first
                    heads.append((voice.pitch(sign, letter, octaves, self.reach), tie == "-"))
                voice.add(voice.unit * (first or Q(1)) * factor(outer), heads)
            elif kind == "rest":
                voice.add(voice.unit * factor(text[1:]), [])
            elif kind == "bars":
                for n in range(int(text[1:] or 1)):
                    if n:
                        voice.next_bar()
                    voice.here()["whole"] = True
            elif kind == "grace":
                for sign, letter, octaves, _, _ in HEAD.findall(re.sub(r'![^!]*!|"[^"]*"', "", text)):
                    voice.pitch(sign, letter, octaves, self.reach)
                    voice.graces += 1
            elif kind == "broken":
                short = Q(1, 2 ** len(text))
                before, after = (2 - short, short) if text[0] == ">" else (short, 2 - short)
                voice.last()["length"] *= before
                voice.broken = after
            elif kind == "tie":
                voice.last()["ties"] = [True] * len(voice.last()["ties"])
            elif kind == "tuplet":
                given = [int(n) if n else 0 for n in text[1:].split(":")] + [0, 0]
                p = given[0]
                q = given[1] or {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}.get(p, 3 if voice.compound else 2)
                voice.tuplets.append([Q(q, p), given[2] or p])
            elif kind == "overlay":
                back = len(text) - (1 if voice.filled() or voice.front is not None else 0)
                end = len(voice.bars) - 1
                target = end - back
                voice.front = end if target < end or not voice.filled() else None
                voice.cursor = target
                voice.layer = max(len(b["layers"]) for b in voice.bars[target : end + 1])
                voice.accidentals = {}


def tunes_of(text):
    tune, header, reach, first = None, True, "pitch", True
    block = False
    for line in re.split(r"\r\n|\r|\n", text):
        if re.match(r"(%%|I:)propagate-accidentals", line):
            value = line.split()[1]
            if tune is None:
                reach = value
            else:
                tune.reach = value
        if line.startswith("%"):
            block = block or line.startswith("%%begintext")
            block = block and not line.startswith("%%endtext")
            continue
        if block:
            continue
        empty = line.strip() == ""
        line = re.split(r"(?<!\\)%", line)[0].rstrip()
        if empty:
            if tune is not None:
                yield tune
            tune = None
            continue
        if line == "":
            continue
        field = re.match(r"([A-Za-z+]):(.*)", line)
        if field and field.group(1) == "X":
            tune, header = Tune(reach), True
            if first:
                first = False
            for letter, value in FILE:
                tune.field(letter, value, True)
        elif tune is None:
            if field and first and field.group(1) in "ML":
                FILE.append(field.groups())
        elif field and (header or field.group(1) in "IKLMNPQRTUVWmrsw+"):
            tune.field(field.group(1), field.group(2), header)
            header = header and field.group(1) != "K"
        else:
            tune.music(line)
    if tune is not None:
        yield tune


FILE = []


def sums(voice, starts, lengths):
    """Counts of a voice whose bars begin at `starts`."""
    out = {"notes": 0, "graces": voice.graces, "onsets": Q(0), "durations": Q(0), "midi": Q(0)}
    layers = max((len(bar["layers"]) for bar in voice.bars), default=0)
    for layer in range(layers):
        waiting = {}
        for index, bar in enumerate(voice.bars):
            if len(bar["layers"]) <= layer:
                continue
            position = starts[index]
            for group in bar["layers"][layer]:
                length = group["length"] * group["ratio"]
                found = []
                for midi in group["pitches"]:
                    if waiting.get(midi) == position:
                        found.append(midi)
                        del waiting[midi]
                    else:
                        out["notes"] += 1
                        out["onsets"] += position
                        out["midi"] += 0 if voice.drum else midi
                    out["durations"] += length
                waiting = {m: position + length for m, tie in zip(group["pitches"], group["ties"]) if tie}
                position += length
    return {name: str(value) if isinstance(value, Q) else value for name, value in out.items()}


def count(path):
    FILE.clear()
    with open(path, encoding="utf-8") as file:
        text = file.read()
    out, offset, bars = {}, Q(0), 0
    for tune in tunes_of(text):
        voices = {name: v for name, v in tune.voices.items() if any(any(b["layers"]) or b["whole"] for b in v.bars)}
        for voice in voices.values():
            if not (any(voice.bars[-1]["layers"]) or voice.bars[-1]["whole"]):
                voice.bars.pop()
        number = max((len(v.bars) for v in voices.values()), default=0)
        starts, lengths, position, full = [], [], offset, Q(0)
        for index in range(number):
            here = [v.bars[index] for v in voices.values() if index < len(v.bars)]
            contents = [sum((g["length"] * g["ratio"] for g in layer), Q(0)) for b in here for layer in b["layers"]]
            # The metre is one for all: that of the first voice that states one.
            full = next((b["full"] for b in here if b["full"] is not None), full)
            length = max(contents, default=Q(0)) or full or (lengths[-1] if lengths else Q(1))
            starts.append(position)
            lengths.append(length)
            position += length
        offset, bars = position, bars + number
        for name, voice in voices.items():
            own = sums(voice, starts, lengths)
            known = out.setdefault(name, {"notes": 0, "graces": 0, "onsets": "0", "durations": "0", "midi": "0"})
            for field, value in own.items():
                known[field] = known[field] + value if isinstance(value, int) else str(Q(known[field]) + Q(value))
    return {"bars": bars, "length": str(offset), "voices": out}


if __name__ == "__main__":
    result = {}
    for path in sys.argv[1:]:
        try:
            result[os.path.basename(path)] = count(path)
        except Exception as error:  # a file that this program can not read is named, not hidden
            result[os.path.basename(path)] = {"error": f"{type(error).__name__}: {error}"}
    json.dump(result, sys.stdout)
