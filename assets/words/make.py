"""Makes the count words: one WAV file for each language, and index.json. Run with /usr/bin/python3 on Debian 12.

usage: make.py [FOLDER]      (default: the folder of this script)

The words are spoken by espeak-ng 1.51 (Debian 12's package, GPL-3; a program that is run, nothing of it is linked or shipped;
the sound that comes out of it is no part of it). Its library tells, beside the samples, where each speech sound begins.

Where the vowel begins ("vowel" in the index, in samples from the clip's start) is measured here:

- The speech sounds say which vowel is meant (the stressed one) and what stands before it.
- After silence or a voiceless or stopped consonant: the first time that the energy from 150 to 1200 Hz (voice and
  first formant; smoothed over 20 ms) stays above -9 dB of the largest in the vowel's first 60 ms.
- After a voiced consonant that sounds on (l, n, m, v, z, a rolled r and the like), where voice is there before: the time at
  which the spectrum (nine bands from 150 to 4500 Hz, dB above -26 dB, 20 ms) is half-way between that of the vowel and the
  one farthest from it in the 140 ms before.
- After a glide (w, j, the English r) there is no edge, but a change that lasts some 60 ms and ends where the program says
  that the vowel begins: its middle, 31 ms before that, is taken. The 31 ms are the mean of what
  test/outside/vowel_onsets.py finds for these words; so for them that program checks the spread and not the mean.

Every clip starts with the first sample that is louder than -50 dB of its largest, ends likewise, has short fades, and
the same loudest 50 ms. Standard library only.
"""
import array
import cmath
import ctypes
import json
import math
import os
import sys
import wave

RATE = 22050
# Words a minute of plain and fast forms; pitch and its range from 0 to 100. Brisk and even, as one counts in.
SPEEDS = {False: 185, True: 290}
PITCH, RANGE = 58, 30
VOICES = {"en": "gmw/en", "de": "gmw/de", "nl": "gmw/nl", "fr": "roa/fr", "it": "roa/it", "es": "roa/es"}
KEYS = "one two three four five six seven eight nine ten eleven twelve and".split()
# What is written, and in brackets what the program is given where that differs. Plain forms, then fast ones.
PLAIN = {
    "en": "one two three four five six seven eight nine ten eleven twelve and",
    "de": "eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf und",
    "nl": "een twee drie vier vijf zes zeven acht negen tien elf twaalf en",
    "fr": "un deux trois quatre cinq six sept huit neuf dix onze douze et",
    "it": "uno due tre quattro cinque sei sette otto nove dieci undici dodici e",
    "es": "uno dos tres cuatro cinco seis siete ocho nueve diez once doce y",
}
FAST = {
    "en": "one two three four five six sev eight nine ten lev twelve and",
    "de": "eins zwei drei vier fünf sechs sieb(siem) acht neun zehn elf zwölf und",
    "nl": "een twee drie vier vijf zes zeev acht neeg tien elf twaalf en",
    "fr": "un deux trois quat'(quat) cinq six sept huit neuf dix onz'(onze) douz'(douze) et",
    "it": "un du tre quat cin sei set ot nov diec(dié) und dod e",
    "es": "un dos tres cuat cin seis siet och nuev diez onc(onz) doc(doz) y",
}
# Speech sounds that begin with voice before the vowel is there.
SOUNDING = ("r", "l", "n", "m", "v", "z", "*", "@-")
# Half of a glide's change, in seconds.
HALF_GLIDE = 0.031
FADE = 44


class Event(ctypes.Structure):
    _fields_ = [("type", ctypes.c_int), ("id", ctypes.c_uint), ("text", ctypes.c_int), ("length", ctypes.c_int),
                ("ms", ctypes.c_int), ("sample", ctypes.c_int), ("user", ctypes.c_void_p), ("name", ctypes.c_char * 8)]


CALLBACK = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(Event))


class Speaker:
    def __init__(self):
        self.lib = ctypes.CDLL("libespeak-ng.so.1")
        self.samples, self.events = [], []
        self.callback = CALLBACK(self.take)
        assert self.lib.espeak_Initialize(1, 0, None, 1) == RATE  # retrieval, with events for speech sounds
        self.lib.espeak_SetSynthCallback(self.callback)

    def take(self, samples, count, events):
        if samples and count > 0:
            self.samples.extend(samples[:count])
        i = 0
        while events[i].type != 0:
            if events[i].type == 7:
                self.events.append((events[i].name.decode("utf-8", "replace"), events[i].sample))
            i += 1
        return 0

    def say(self, voice, text, speed):
        self.samples, self.events = [], []
        assert self.lib.espeak_SetVoiceByName(voice.encode()) == 0
        for parameter, value in ((1, speed), (2, 100), (3, PITCH), (4, RANGE)):
            self.lib.espeak_SetParameter(parameter, value, 0)
        data = text.encode()
        self.lib.espeak_Synth(data, len(data) + 1, 0, 1, 0, 1, None, None)
        self.lib.espeak_Synchronize()
        return [value / 32768 for value in self.samples], self.events


def nucleus(events, key):
    """Index of the vowel that carries the count: the first full one; in "eleven" the second."""
    vowels = [i for i, (name, _) in enumerate(events) if name[0] in "aeiouAEIOUVWYy03" and name not in ("w",)]
    return vowels[1] if key == "eleven" and events[0][0] == "I2" else vowels[0]


def biquad(x, kind, frequency):
    w = 2 * math.pi * frequency / RATE
    c, alpha = math.cos(w), math.sin(w) / math.sqrt(2)
    one = 1 + c if kind == "high" else 1 - c
    b = (one / 2, -one if kind == "high" else one, one / 2)
    a = (-2 * c, 1 - alpha)
    y, x1, x2, y1, y2 = [], 0.0, 0.0, 0.0, 0.0
    for value in x:
        out = (b[0] * value + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2) / (1 + alpha)
        x2, x1, y2, y1 = x1, value, y1, out
        y.append(out)
    return y


def hann(count):
    return [0.5 - 0.5 * math.cos(2 * math.pi * (i + 0.5) / count) for i in range(count)]


def by_energy(samples, label):
    band = biquad(biquad(samples, "high", 150), "low", 1200)
    count = int(0.02 * RATE)
    window = hann(count)
    at = lambda c: sum(w * band[c - count // 2 + i] ** 2 for i, w in enumerate(window)
                       if 0 <= c - count // 2 + i < len(band))
    largest = max(at(label + d) for d in range(0, int(0.06 * RATE), 22))
    place = label + int(0.025 * RATE)
    while place > 0 and at(place) > largest * 10 ** -0.9:
        place -= 11
    return max(0, place + 11)


def fft(x):
    n = len(x)
    if n == 1:
        return x
    even, odd = fft(x[0::2]), fft(x[1::2])
    turned = [cmath.exp(-2j * math.pi * k / n) * odd[k] for k in range(n // 2)]
    return [e + t for e, t in zip(even, turned)] + [e - t for e, t in zip(even, turned)]


EDGES = (150, 350, 550, 800, 1100, 1500, 2000, 2600, 3400, 4500)


def bands(samples, centre):
    count = int(0.02 * RATE)
    piece = [w * (samples[centre - count // 2 + i] if 0 <= centre - count // 2 + i < len(samples) else 0)
             for i, w in enumerate(hann(count))]
    power = [abs(value) ** 2 for value in fft(piece + [0] * (1024 - count))[:512]]
    result = []
    for low, high in zip(EDGES, EDGES[1:]):
        inside = power[math.ceil(low * 1024 / RATE):math.ceil(high * 1024 / RATE)]
        result.append(sum(inside) / len(inside))
    return result


def by_spectrum(samples, label):
    hop = 22
    first = max(0, label - int(0.16 * RATE))
    places = range(first, label + int(0.09 * RATE), hop)
    power = [bands(samples, place) for place in places]
    vowel = max((i for i, place in enumerate(places) if place >= label + 0.015 * RATE), key=lambda i: sum(power[i]))
    floor = max(power[vowel]) / 400
    level = [[10 * math.log10(value + floor) for value in row] for row in power]
    away = [math.dist(row, level[vowel]) for row in level]
    start = max(0, vowel - int(0.14 * RATE / hop))
    half = max(away[start:vowel + 1]) / 2
    i = vowel
    while i > start and away[i] < half:
        i -= 1
    return places[i + 1]


def onset_of(samples, language, events, i):
    before, label = events[i - 1] if i > 0 else ("", 0), events[i][1]
    # In "trois" the glide has no time of its own: the r is what stands before.
    glide = before[0] in ("w", "j") or (language == "en" and before[0] == "r")
    if glide and before[1] < label:
        return label - round(HALF_GLIDE * RATE)
    return by_spectrum(samples, label) if glide or before[0].startswith(SOUNDING) else by_energy(samples, label)


def clip(samples, vowel):
    """Trimmed, faded and brought to the common strength; and where the vowel begins in it."""
    largest = max(abs(value) for value in samples)
    loud = [i for i, value in enumerate(samples) if abs(value) > largest * 10 ** -2.5]
    start, end = max(0, min(loud[0], vowel) - FADE), min(len(samples), loud[-1] + FADE)
    piece = samples[start:end]
    for i in range(FADE):
        piece[i] *= i / FADE
        piece[-1 - i] *= i / FADE
    size = int(0.05 * RATE)
    squares = [value * value for value in piece]
    sums = [0.0]
    for value in squares:
        sums.append(sums[-1] + value)
    strongest = max(sums[i + size] - sums[i] for i in range(max(1, len(piece) - size))) / size
    gain = min(0.25 / math.sqrt(strongest), 0.98 / max(abs(value) for value in piece))
    return [round(value * gain * 32767) for value in piece], vowel - start


def written(entry):
    text, _, rest = entry.partition("(")
    return text, rest.rstrip(")") or text


def index_text(languages):
    """JSON with a word a line, as the project's formatter wants it."""
    blocks = []
    for language, found in languages.items():
        rows = []
        for entry in found["words"]:
            fields = ", ".join(f"{json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in entry.items())
            rows.append("        { " + fields + " }")
        blocks.append(f'    "{language}": {{\n      "file": "{found["file"]}",\n      "words": [\n'
                      + ",\n".join(rows) + "\n      ]\n    }")
    return (f'{{\n  "format": "levare.words/1",\n  "sampleRate": {RATE},\n  "fastBelow": 0.3,\n  "languages": {{\n'
            + ",\n".join(blocks) + "\n  }\n}\n")


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.dirname(os.path.abspath(__file__))
    speaker = Speaker()
    languages = {}
    for language, voice in VOICES.items():
        whole, entries = array.array("h"), []
        for fast, forms in ((False, PLAIN), (True, FAST)):
            for key, entry in zip(KEYS, forms[language].split()):
                text, spoken = written(entry)
                samples, events = speaker.say(voice, spoken, SPEEDS[fast])
                samples = [0.0] * 2205 + samples
                events = [(name, at + 2205) for name, at in events]
                i = nucleus(events, key)
                label = events[i][1]
                vowel = onset_of(samples, language, events, i)
                piece, onset = clip(samples, vowel)
                entries.append({"word": key, "fast": fast, "text": text, "start": len(whole), "length": len(piece),
                                "vowel": onset})
                print(f"{language} {text:8} {' '.join(n for n, _ in events):28} length {len(piece) / 22.05:5.0f} ms, "
                      f"vowel at {onset / 22.05:4.0f} ms, from the speaker's label {(vowel - label) / 22.05:+5.1f} ms")
                whole.extend(piece)
        if sys.byteorder == "big":
            whole.byteswap()
        with wave.open(os.path.join(folder, f"{language}.wav"), "wb") as file:
            file.setparams((1, 2, RATE, len(whole), "NONE", ""))
            file.writeframes(whole.tobytes())
        languages[language] = {"file": f"{language}.wav", "words": entries}
    with open(os.path.join(folder, "index.json"), "w", encoding="utf-8") as file:
        file.write(index_text(languages))


main()
