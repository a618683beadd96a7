/** The drill: passage, click, count-in, tempo, the page. */
import type { Pair } from '../patterns.ts';

export const drill: Readonly<Record<string, readonly Pair[]>> = {
  'bar-number-twice': [
    [
      'Bar number {n} stands more than once; the first is taken. Write @{next} for the next (levare look shows the index of every bar).',
      'Die Taktzahl {n} kommt mehrmals vor; die erste gilt. Für die nächste @{next} schreiben.',
    ],
  ],
  'bar-shift-below-zero': [
    [
      "The edition's bar numbers would begin below 0 ({n}); they stay as they are in the score.",
      'Die Taktzahlen der Ausgabe würden unter 0 beginnen ({n}); sie bleiben wie in der Partitur.',
    ],
  ],
  'bar-unknown': [
    ['The passage does not hold bar {bar}.', 'Takt {bar} liegt nicht in der Stelle.'],
    [
      'There is no bar or rehearsal mark "{name}".',
      'Einen Takt oder ein Studierzeichen „{name}“ gibt es nicht.',
    ],
    [
      'There is no bar or rehearsal mark "{name}". The bars run from {from} to {to}. Rehearsal marks: {marks}.',
      'Einen Takt oder ein Studierzeichen „{name}“ gibt es nicht. Die Takte gehen von {from} bis {to}. Studierzeichen: {marks}.',
    ],
    [
      'There is no bar or rehearsal mark "{name}". Rehearsal marks: {marks}.',
      'Einen Takt oder ein Studierzeichen „{name}“ gibt es nicht. Studierzeichen: {marks}.',
    ],
    [
      'There is no bar or rehearsal mark "{name}". The bars run from {from} to {to}.',
      'Einen Takt oder ein Studierzeichen „{name}“ gibt es nicht. Die Takte gehen von {from} bis {to}.',
    ],
  ],
  'bars-not-played': [
    [
      'In playing order, bar {from} never leads to bar {to}: a repeat, an ending or a jump lies between. Name a shorter passage.',
      'In der Spielfolge führt Takt {from} nie zu Takt {to}: Eine Wiederholung, eine Klammer oder ein Sprung liegt dazwischen. Eine kürzere Stelle geht.',
    ],
  ],
  'bars-reversed': [
    [
      '"{text}" ends before it begins: write the earlier bar first.',
      '„{text}“ endet, bevor es beginnt: Der frühere Takt steht vorn.',
    ],
  ],
  'beat-unknown': [
    [
      '"{text}" is no place in a bar: write the beat, as "2" or "2+1/2".',
      '„{text}“ ist keine Stelle im Takt: Gebraucht wird der Schlag, etwa „2“ oder „2+1/2“.',
    ],
    ['This bar of {metre} has no place "{text}".', 'Dieser Takt in {metre:metre} hat keine Stelle „{text}“.'],
  ],
  'click-not-drawn': [
    [
      'A click falls on a fraction of the beat that no usual note value reaches: it sounds, but stands on no page.',
      'Ein Klick fällt auf einen Bruchteil des Schlags, den kein üblicher Notenwert trifft: Er klingt, steht aber auf keiner Seite.',
    ],
  ],
  'click-silent': [
    [
      'From "{text}" in bar {bar} the click is silent while the tempo gives way.',
      'Ab „{text}“ in Takt {bar} schweigt der Klick, solange das Tempo nachgibt.',
    ],
    ['The click stops at the fermata in bar {bar}.', 'An der Fermate in Takt {bar} hört der Klick auf.'],
    [
      'Everyone rests in bar {bar}: the click is silent but for its last beat.',
      'In Takt {bar} pausieren alle: Der Klick schweigt bis auf den letzten Schlag.',
    ],
    ['Music without metre has no click.', 'Musik ohne Taktart hat keinen Klick.'],
  ],
  'click-uneven': [
    [
      'A bar of {metre} does not divide into {text}: the click begins anew with each bar.',
      'Ein Takt in {metre:metre} geht nicht in {text} auf: Der Klick beginnt mit jedem Takt neu.',
    ],
  ],
  'count-in-missing': [
    [
      'There is no count-in: the upbeat leaves no count of it, or the music has no metre to count.',
      'Es wird nicht eingezählt: Der Auftakt lässt keinen Schlag dafür übrig, oder die Musik hat keine Taktart.',
    ],
  ],
  'count-in-unknown': [
    [
      '"{text}" is no count-in. Say auto, none, first, each, or a number of bars up to 8: 2, first:2, each:1.',
      '„{text}“ ist kein Einzählen. Möglich sind auto, none, first, each oder bis zu 8 Takte: 2, first:2, each:1.',
    ],
  ],
  'count-uneven': [
    [
      'A bar of {metre} cannot be counted in {unit} throughout: its last beat is shorter.',
      'Ein Takt in {metre:metre} lässt sich nicht durchweg in {unit} zählen: Sein letzter Schlag ist kürzer.',
    ],
  ],
  'count-unknown': [
    [
      '"{text}" cannot be counted in: write a note value down to 1/64, such as 1/8 or 1/4.',
      'In „{text}“ lässt sich nicht zählen: Gebraucht wird ein Notenwert bis 1/64, etwa 1/8 oder 1/4.',
    ],
  ],
  'reading-damaged': [
    [
      'This is not a reading: its "format" should be "levare.reading/4".',
      'Das ist kein Hörbericht: Sein „format“ müsste „levare.reading/4“ sein.',
    ],
    [
      'The reading is damaged: its field "{field}" is missing or is not what it should be.',
      'Der Hörbericht ist beschädigt: Sein Feld „{field}“ fehlt oder ist nicht, was es sein sollte.',
    ],
  ],
  'drill-damaged': [
    [
      'This is not a drill: its "format" should be "levare.drill/2".',
      'Das ist keine Übung: Ihr „format“ müsste „levare.drill/2“ sein.',
    ],
    [
      'There has never been a drill of format version {n}.',
      'Eine Übung in der Formatversion {n} hat es nie gegeben.',
    ],
    [
      'The drill is damaged: it has a field "{field}", which no drill has.',
      'Die Übung ist beschädigt: Sie hat ein Feld „{field}“, das keine Übung hat.',
    ],
    [
      'The drill is damaged: its field "{field}" is missing or is not what it should be ({_why}).',
      'Die Übung ist beschädigt: Ihr Feld „{field}“ fehlt oder ist nicht, was es sein sollte.',
    ],
    [
      'The drill is damaged: its text is not JSON any more. It may have been cut short.',
      'Die Übung ist beschädigt: Ihr Text ist kein JSON mehr. Vielleicht wurde sie abgeschnitten.',
    ],
  ],
  'drill-too-long': [
    [
      'This drill would last {hours} hours; the longest is {most}. Ask for fewer repetitions.',
      'Diese Übung würde {hours:decimal} Stunden dauern; höchstens sind es {most}. Weniger Wiederholungen gehen.',
    ],
  ],
  'gap-added': [
    [
      'The upbeat falls where the last bar still sounds, so one silent bar stands between repetitions; the metre stays whole.',
      'Der Auftakt fällt dorthin, wo der letzte Takt noch klingt; deshalb steht zwischen den Wiederholungen ein stiller Takt, und der Takt bleibt ganz.',
    ],
  ],
  'glyph-missing': [
    [
      'The fonts of the page lack [this character|these characters]: {list} and {n} more. An empty box stands in [its|their] place on paper.',
      'In den Schriften der Seite fehlen Zeichen: {list} und {n} weitere. Auf dem Papier steht dafür ein leeres Kästchen.',
    ],
    [
      'The fonts of the page lack [this character|these characters]: {list}. An empty box stands in [its|their] place on paper.',
      'In den Schriften der Seite fehlt: {list}. Auf dem Papier steht dafür ein leeres Kästchen.',
    ],
  ],
  'groups-unknown': [
    [
      '"{text}" is no grouping: write it as 2+2+3.',
      '„{text}“ ist keine Gruppierung: geschrieben wird sie wie 2+2+3.',
    ],
  ],
  'groups-unused': [
    [
      'No bar of the passage can be grouped as {text}: it is counted as usual.',
      'Kein Takt der Stelle lässt sich als {text} gruppieren: Es wird wie üblich gezählt.',
    ],
  ],
  'hemiola-cut': [
    [
      'The passage plays only a part of the hemiola, so only that is clicked.',
      'Die Stelle spielt nur einen Teil der Hemiole; nur der wird geklickt.',
    ],
  ],
  'hemiola-outside': [
    [
      'The hemiola lies outside the passage, so it is not clicked.',
      'Die Hemiole liegt außerhalb der Stelle; sie wird nicht geklickt.',
    ],
  ],
  'holds-unknown': [
    [
      '"{text}" is not understood: at fermatas say count (the click stops and counts in again) or through.',
      '„{text}“ wird nicht verstanden: An Fermaten gibt es count (der Klick hört auf und zählt neu ein) oder through.',
    ],
  ],
  'keep-unknown': [
    [
      '"{text}" names no notes to keep. Say all, 1/8+ (eighths and longer), 1/16 (only sixteenths), 1/8- (eighths and shorter), 1/8t (triplet eighths), or several with commas.',
      '„{text}“ nennt keine Noten. Möglich sind all, 1/8+ (Achtel und länger), 1/16 (nur Sechzehntel), 1/8- (Achtel und kürzer), 1/8t (Achteltriolen) oder mehrere mit Kommas.',
    ],
  ],
  'kind-unknown': [
    [
      'There is no kind of place "{name}". There are {list}.',
      'Eine Art von Stellen „{name}“ gibt es nicht. Es gibt {list}.',
    ],
  ],
  'note-not-engraved': [
    [
      'One written note or rest is missing from the page.',
      'Eine geschriebene Note oder Pause fehlt auf der Seite.',
    ],
    [
      '{n} written notes or rests are missing from the page.',
      '{n} geschriebene Noten oder Pausen fehlen auf der Seite.',
    ],
  ],
  'nothing-kept': [
    [
      'No note of the passage is "{text}": only the click is left.',
      'Keine Note der Stelle passt zu „{text}“: Nur der Klick bleibt.',
    ],
  ],
};
