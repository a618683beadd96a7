"""Where vowels begin in a recording of count words. Standard library only; shares nothing with what made the words.

usage: vowel_onsets.py FILE BEAT [BEAT ...]          (WAV, 16 bits, first channel; beats in samples)

For each beat it prints by how many milliseconds the vowel nearest to it is late. The words' own index is not known here.
The sound is brought to a quarter of its rate. Every 2 ms a spectrum is taken (24 ms, Hann; 100 to 4000 Hz, smoothed over 200 Hz, compressed:
amplitude to the power 0.6). The vowel is the strongest voiced spectrum from 10 to 90 ms after the beat (voiced: its
autocorrelation between 70 and 250 Hz is above 0.5). How much of that spectrum is there already is the projection on it;
the vowel begins where, going back from it, that share first falls half-way to the least in the 130 ms before.
"""
import array
import cmath
import json
import math
import sys
import wave

SIZE = 512


def read(path):
    with wave.open(path) as file:
        assert file.getsampwidth() == 2
        data = array.array("h", file.readframes(file.getnframes()))
        if sys.byteorder == "big":
            data.byteswap()
        return file.getframerate(), [value / 32768 for value in data[::file.getnchannels()]]


def quarter(sound, beats, rate):
    """Every fourth sample after a low-pass (windowed sinc, 33 taps), within 0.18 s of a beat; nothing elsewhere."""
    taps = [(math.sin(math.pi * k / 4.4) / (math.pi * k) if k else 1 / 4.4) * (0.5 + 0.5 * math.cos(math.pi * k / 17))
            for k in range(-16, 17)]
    padded = [0.0] * 16 + sound + [0.0] * 16
    low = [0.0] * (len(sound) // 4 + 1)
    for beat in beats:
        for i in range(max(0, round((beat - 0.18 * rate) / 4)), min(len(low), round((beat + 0.18 * rate) / 4))):
            if low[i] == 0:
                low[i] = sum(t * v for t, v in zip(taps, padded[4 * i:4 * i + 33]))
    return low


TURNS = {n: [cmath.exp(-2j * math.pi * k / n) for k in range(n // 2)] for n in (2 ** i for i in range(1, 10))}


def fft(x):
    n = len(x)
    if n == 2:
        return [x[0] + x[1], x[0] - x[1]]
    even, odd = fft(x[0::2]), fft(x[1::2])
    turned = [t * o for t, o in zip(TURNS[n], odd)]
    return [e + t for e, t in zip(even, turned)] + [e - t for e, t in zip(even, turned)]


def compressed(power, rate):
    half = round(100 * SIZE / rate)
    low, high = round(100 * SIZE / rate), round(4000 * SIZE / rate)
    return [sum(power[max(0, k - half):k + half + 1]) ** 0.3 for k in range(low, high)]


def spectra(sound, centres, rate):
    """Two at a time: one as the real, one as the imaginary part, told apart by their symmetry."""
    count = int(0.024 * rate)
    window = [0.5 - 0.5 * math.cos(2 * math.pi * (i + 0.5) / count) for i in range(count)]

    def piece(centre):
        start = centre - count // 2
        return [(sound[start + i] if 0 <= start + i < len(sound) else 0.0) * window[i] for i in range(count)]

    found = []
    for one, other in zip(centres[0::2], centres[1::2] + centres[-1:]):
        both = fft([complex(a, b) for a, b in zip(piece(one), piece(other))] + [0j] * (SIZE - count))
        mirrored = [both[-k].conjugate() for k in range(SIZE // 2)]
        for sign in 1, -1:
            found.append(compressed([abs(z + sign * m) ** 2 / 4 for z, m in zip(both, mirrored)], rate))
    return found[:len(centres)]


def voiced(sound, centre, rate):
    count = int(0.03 * rate)
    piece = sound[max(0, centre - count // 2):centre + count // 2]
    best = 0.0
    for lag in range(int(rate / 250), int(rate / 70)):
        a, b = piece[:-lag], piece[lag:]
        size = math.sqrt(sum(v * v for v in a) * sum(v * v for v in b))
        if size > 0:
            best = max(best, sum(v * w for v, w in zip(a, b)) / size)
    return best > 0.5


def lateness(sound, beat, rate):
    hop = max(1, round(0.002 * rate))
    places = list(range(beat - int(0.15 * rate), beat + int(0.1 * rate), hop))
    heard = spectra(sound, places, rate)
    inside = [i for i, place in enumerate(places) if beat + 0.01 * rate <= place <= beat + 0.09 * rate]
    inside.sort(key=lambda i: -sum(heard[i]))
    vowel = next((i for i in inside if voiced(sound, places[i], rate)), None)
    if vowel is None:
        return None
    core = heard[vowel]
    whole = sum(v * v for v in core)
    share = [sum(v * w for v, w in zip(row, core)) / whole for row in heard]
    start = max(0, vowel - int(0.13 * rate / hop))
    half = (1 + min(share[start:vowel + 1])) / 2
    i = vowel
    while i > start and share[i] > half:
        i -= 1
    # Straight between the two places on either side.
    below, above = share[i], share[i + 1]
    place = places[i] + hop * (half - below) / (above - below)
    return (place - beat) / rate * 1000


def main():
    rate, sound = read(sys.argv[1])
    beats = [int(text) for text in sys.argv[2:]]
    low = quarter(sound, beats, rate)
    json.dump([lateness(low, round(beat / 4), rate / 4) for beat in beats], sys.stdout)


main()
