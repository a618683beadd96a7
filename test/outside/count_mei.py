"""An independent reading of MEI files in common notation, for test/score/mei-count.test.ts.

Written from the MEI Guidelines 5.1, chapter 4; it shares nothing with the reader. For each file named: the number of bars, and for
each staff of each movement the number of notes as drawn, of grace notes, and exact sums of onsets (whole notes from the beginning),
lengths and written keys (before transposition, as performed). It knows layers, chords, beams, tuplets and tuplet spans with a list,
tremolos, bar rests and repeats of bars; it does not know editions, copies and repeats of beats.
"""
import json
import sys
import xml.etree.ElementTree as ET
from fractions import Fraction as Q

STEPS = dict(c=0, d=2, e=4, f=5, g=7, a=9, b=11)
ALTER = {'s': 1, 'f': -1, 'n': 0, 'x': 2, 'ss': 2, 'ff': -2, '1qs': Q(1, 2), '1qf': Q(-1, 2)}
LONG = dict(breve=Q(2), long=Q(4), maxima=Q(8))


def name(element):
    return element.tag.split('}')[-1] if isinstance(element.tag, str) else ''


def value(dur, dots):
    whole = LONG[dur] if dur in LONG else Q(1, int(dur))
    return sum((whole / 2**n for n in range(int(dots or 0) + 1)), Q(0))


class Staff:
    def __init__(self):
        self.notes = []
        self.graces = 0
        self.memory = {}


class Reading:
    def __init__(self, root):
        self.spans = {}
        for span in root.iter():
            if name(span) == 'tupletSpan':
                ratio = Q(int(span.get('numbase')), int(span.get('num')))
                ids = [one.lstrip('#') for one in (span.get('plist') or '').split()]
                for one in ids or [None]:
                    self.spans[one] = ratio
        self.open_spans = [
            (s.get('startid', '').lstrip('#'), s.get('endid', '').lstrip('#'), Q(int(s.get('numbase')), int(s.get('num'))))
            for s in root.iter()
            if name(s) == 'tupletSpan' and not s.get('plist')
        ]
        self.bars = 0
        self.at = Q(0)
        self.staves = {}
        self.now = None

    def key(self, note, memory):
        for what in ('pname', 'oct'):
            if note.get(what):
                memory[what] = note.get(what)
        if note.get('loc') and not note.get('pname') or 'pname' not in memory:
            return None
        accid, performed = note.get('accid'), note.get('accid.ges')
        for child in note.iter():
            if name(child) == 'accid':
                accid = accid or child.get('accid')
                performed = performed or child.get('accid.ges')
        step = note.get('pname.ges') or memory['pname']
        octave = int(note.get('oct.ges') or memory['oct'])
        return 12 * (octave + 1) + STEPS[step] + ALTER[performed or accid or 'n']

    def events(self, element, staff, layer, at, ratio, grace, cue):
        """Reads what is in a layer from `at` on; gives where it ends."""
        for item in element:
            kind = name(item)
            cued = cue or item.get('cue') == 'true'
            if kind in ('note', 'chord', 'rest', 'space'):
                at = self.event(item, kind, staff, layer, at, ratio, grace, cued)
            elif kind == 'tuplet':
                inner = ratio * Q(int(item.get('numbase')), int(item.get('num')))
                at = self.events(item, staff, layer, at, inner, grace, cued)
            elif kind == 'fTrem':
                at = self.events(item, staff, layer, at, ratio / 2, grace, cued)
            elif kind == 'graceGrp':
                self.events(item, staff, layer, at, ratio, True, cued)
            elif kind in ('beam', 'bTrem'):
                at = self.events(item, staff, layer, at, ratio, grace, cued)
            elif kind == 'mRpt':
                before = self.copies.get((staff, layer), [])
                for onset, length, key in before:
                    self.put(staff, layer, at + onset, length, key)
                at = max([at] + [onset + length for onset, length, _ in before])
        return at

    def event(self, item, kind, staff, layer, at, ratio, grace, cue):
        memory = self.staves[staff].memory.setdefault(layer, {})
        ids = [item.get('{http://www.w3.org/XML/1998/namespace}id')]
        for start, end, more in self.open_spans:
            if start in ids:
                memory.setdefault('spans', []).append((end, more))
        for one in ids:
            ratio *= self.spans.get(one, 1) if one else 1
        for _, more in memory.get('spans', []):
            ratio *= more
        memory['spans'] = [(end, more) for end, more in memory.get('spans', []) if end not in ids]
        dur, dots = item.get('dur'), item.get('dots')
        inside = [child for child in item if name(child) == 'note']
        if not dur and inside and inside[0].get('dur'):
            dur, dots = inside[0].get('dur'), inside[0].get('dots')
        if dur:
            memory['dur'] = dur
        length = value(memory['dur'], dots) * ratio
        grace = grace or bool(item.get('grace'))
        heads = inside if kind == 'chord' else [item] if kind == 'note' else []
        for head in heads:
            key = self.key(head, memory)
            if grace:
                self.staves[staff].graces += 1
            elif not cue and head.get('cue') != 'true':
                own = value(head.get('dur'), head.get('dots')) * ratio if head.get('dur') else length
                self.put(staff, layer, at, own, key)
        return at if grace else at + length

    def put(self, staff, layer, at, length, key):
        self.here.setdefault((staff, layer), []).append((at, length, key))
        self.staves[staff].notes.append((self.at + at, length, key))

    def measure(self, measure, full):
        self.here = {}
        reach = Q(0)
        for staff in measure:
            if name(staff) == 'ossia':
                inner = [one for one in staff if name(one) == 'staff' and one.get('n')]
            else:
                inner = [staff] if name(staff) == 'staff' else []
            for one in inner:
                n = (self.movement, one.get('n') or '1')
                self.staves.setdefault(n, Staff())
                layers = [x for x in one.iter() if name(x) == 'layer']
                for index, layer in enumerate(layers):
                    label = layer.get('n') or str(index + 1)
                    end = self.events(layer, n, label, Q(0), Q(1), False, layer.get('cue') == 'true')
                    reach = max(reach, end)
        self.copies = self.here
        self.bars += 1
        self.at += reach if reach > 0 else full

    def walk(self, element, full):
        for item in element:
            kind = name(item)
            if kind in ('scoreDef', 'staffDef', 'meterSig'):
                for one in [item] + list(item.iter()):
                    signature = one if name(one) == 'meterSig' else None
                    count = signature.get('count') if signature is not None else one.get('meter.count')
                    unit = signature.get('unit') if signature is not None else one.get('meter.unit')
                    symbol = signature.get('sym') if signature is not None else one.get('meter.sym')
                    if count and unit:
                        full = Q(sum(int(n) for n in count.split('+')), int(unit))
                    elif symbol in ('common', 'cut'):
                        full = Q(1)
            elif kind == 'measure':
                rests = [x for x in item.iter() if name(x) == 'multiRest']
                times = int(rests[0].get('num')) if rests and not any(name(x) == 'note' for x in item.iter()) else 1
                for _ in range(times):
                    self.measure(item, full)
            elif kind in ('section', 'ending'):
                full = self.walk(item, full)
        return full


def count(path):
    root = ET.parse(path).getroot()
    reading = Reading(root)
    music = next(x for x in root.iter() if name(x) == 'music')
    for movement, score in enumerate(x for x in music.iter() if name(x) == 'score'):
        reading.movement = movement
        reading.copies = {}
        reading.walk(score, Q(1))
    return dict(
        bars=reading.bars,
        length=str(reading.at),
        staves=[
            dict(
                movement=n[0],
                staff=n[1],
                notes=len(staff.notes),
                graces=staff.graces,
                onsets=str(sum((at for at, _, _ in staff.notes), Q(0))),
                durations=str(sum((length for _, length, _ in staff.notes), Q(0))),
                keys=str(sum((Q(key) for _, _, key in staff.notes if key is not None), Q(0))),
            )
            for n, staff in reading.staves.items()
        ],
    )


print(json.dumps([count(path) for path in sys.argv[1:]]))
