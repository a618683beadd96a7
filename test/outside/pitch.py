"""How high a tone sounds. Standard library only; shares nothing with the program.

usage: pitch.py FILE START END [START END ...]      (WAV, 16 bits, first channel; in samples)

For each stretch it prints the fundamental in Hz. A first guess is the lag at which the autocorrelation first comes close
to its largest (40 to 4000 Hz); then the peak of the Hann-windowed Fourier transform near the strongest of the first six
partials is sought and divided by its number.
"""
import array
import cmath
import json
import math
import sys
import wave


def spectrum(piece, rate, frequency):
    turn, z, total = cmath.exp(-2j * math.pi * frequency / rate), 1 + 0j, 0j
    for value in piece:
        total += value * z
        z *= turn
    return abs(total)


def guess(piece, rate):
    part = piece[len(piece) // 3:][:int(0.06 * rate)]
    half = len(part) // 2
    lags = range(int(rate / 4000), int(rate / 40) + 1)
    found = {}
    for lag in lags:
        a, b = part[:half], part[lag:lag + half]
        size = math.sqrt(sum(x * x for x in a) * sum(x * x for x in b))
        found[lag] = sum(x * y for x, y in zip(a, b)) / size if size else 0
    largest = max(found.values())
    return rate / next(lag for lag in lags
                       if found[lag] > 0.97 * largest and found[lag] >= found.get(lag - 1, -1) and found[lag] >= found.get(lag + 1, -1))


def pitch(sound, rate):
    count = len(sound)
    piece = [value * (0.5 - 0.5 * math.cos(2 * math.pi * (i + 0.5) / count)) for i, value in enumerate(sound)]
    first = guess(sound, rate)
    partial = max((k for k in range(1, 7) if k * first < 0.45 * rate), key=lambda k: spectrum(piece, rate, k * first))
    low, high = partial * first * 0.985, partial * first * 1.015
    step = rate / count
    places = [low + i * step for i in range(int((high - low) / step) + 1)]
    centre = max(places, key=lambda f: spectrum(piece, rate, f))
    low, high = centre - step, centre + step
    golden = (math.sqrt(5) - 1) / 2
    while high - low > 1e-5 * centre:
        a, b = high - golden * (high - low), low + golden * (high - low)
        if spectrum(piece, rate, a) > spectrum(piece, rate, b):
            high = b
        else:
            low = a
    return (low + high) / 2 / partial


def main():
    with wave.open(sys.argv[1]) as file:
        rate, channels = file.getframerate(), file.getnchannels()
        data = array.array("h", file.readframes(file.getnframes()))
    if sys.byteorder == "big":
        data.byteswap()
    sound = data[::channels]
    places = [int(text) for text in sys.argv[2:]]
    json.dump([pitch(sound[a:b], rate) for a, b in zip(places[::2], places[1::2])], sys.stdout)


main()
