/** Tempo, ties, tuplets, transposition and movements in what is read. */
import type { Pair } from '../patterns.ts';

const absurd: readonly Pair[] = [
  [
    'A tempo of {unit} = {rate} is {quarters} quarters a minute; from {least} to {most} can be played to.',
    'Ein Tempo von {unit} = {rate:decimal} sind {quarters:decimal} Viertel in der Minute; spielbar sind {least} bis {most}.',
  ],
  [
    'A tempo of {unit} = {rate} is {quarters} quarters a minute; from {least} to {most} can be played to. It is ignored.',
    'Ein Tempo von {unit} = {rate:decimal} sind {quarters:decimal} Viertel in der Minute; spielbar sind {least} bis {most}. Es wird übergangen.',
  ],
];

const zero: readonly Pair[] = [
  [
    'A tempo of {rate} a minute never gets on; it must be above zero.',
    'Ein Tempo von {rate:decimal} in der Minute kommt nie voran; es muss größer als null sein.',
  ],
  [
    'A tempo of {rate} a minute never gets on; it must be above zero. It is ignored.',
    'Ein Tempo von {rate:decimal} in der Minute kommt nie voran; es muss größer als null sein. Es wird übergangen.',
  ],
];

export const readingTime: Readonly<Record<string, readonly Pair[]>> = {
  'tempo-absurd': absurd,
  'tempo-zero': zero,
  'gradual-without-goal': [
    [
      '"{text}" in {bar} does not say which tempo it arrives at, so nothing is changed gradually there.',
      '„{text}“ in {bar:bar} sagt nicht, bei welchem Tempo es ankommt; deshalb ändert sich dort nichts allmählich.',
    ],
  ],
  'relation-zero': [
    [
      'The change of beat in {bar} names a note of no length; it is ignored.',
      'Der Wechsel des Schlags in {bar:bar} nennt eine Note ohne Länge; er wird übergangen.',
    ],
  ],
  'several-pieces': [
    [
      'The file holds {n} pieces, which follow each other as movements: {titles} and more.',
      'Die Datei enthält {n} Stücke, die wie Sätze aufeinander folgen: {titles:titles} und weitere.',
    ],
    [
      'The file holds {n} pieces, which follow each other as movements: {titles}.',
      'Die Datei enthält {n} Stücke, die wie Sätze aufeinander folgen: {titles:titles}.',
    ],
    [
      'The file holds {n} movements or pieces; they follow each other as one score.',
      'Die Datei enthält {n} Sätze oder Stücke; sie folgen aufeinander als eine Partitur.',
    ],
  ],
  'tempo-approximate': [
    [
      'The metronome mark says "{text}"; it is read as {figure}.',
      'Die Tempoangabe lautet „{text}“; sie gilt als {figure:decimal}.',
    ],
    [
      'The metronome mark says "{text}"; it is read as {figure}, the file\'s playback tempo.',
      'Die Tempoangabe lautet „{text}“; sie gilt als {figure:decimal}, das Wiedergabetempo der Datei.',
    ],
  ],
  'tempo-assumed': [
    [
      'The score gives no tempo; quarter = 90 is assumed. Give one if you know it.',
      'Die Partitur nennt kein Tempo; Viertel = 90 wird angenommen. Ein bekanntes Tempo lässt sich eintragen.',
    ],
    [
      'The score gives no tempo ("{text}" has no figure); quarter = 90 is assumed. Give one if you know it.',
      'Die Partitur nennt kein Tempo („{text}“ hat keine Zahl); Viertel = 90 wird angenommen. Ein bekanntes Tempo lässt sich eintragen.',
    ],
  ],
  'tempo-contradiction tempo-differs': [
    [
      'Two tempi stand at the same place: {one} and {other} quarters a minute; the first is taken.',
      'An derselben Stelle stehen zwei Tempi: {one:decimal} und {other:decimal} Viertel in der Minute; das erste gilt.',
    ],
    [
      'The tempo given first is {one} quarters a minute, but the file also asks for playback at {other}; the printed one is taken.',
      'Zuerst steht ein Tempo von {one:decimal} Vierteln in der Minute, aber die Datei verlangt auch die Wiedergabe mit {other:decimal}; es gilt das gedruckte.',
    ],
    [
      'The tempo given first is {one} quarters a minute, but the file also asks for playback at {other}; the first is taken.',
      'Zuerst steht ein Tempo von {one:decimal} Vierteln in der Minute, aber die Datei verlangt auch die Wiedergabe mit {other:decimal}; es gilt das erste.',
    ],
  ],
  'tempo-start-assumed': [
    [
      'The first tempo stands in {bar}; it is taken from the beginning on.',
      'Das erste Tempo steht in {bar:bar}; es gilt von Anfang an.',
    ],
  ],
  'tempo-unreadable': [
    [
      'The tempo "{text}" is none that can be played; it is left out.',
      'Das Tempo „{text}“ ist nicht spielbar; es wird ausgelassen.',
    ],
    [
      'The metronome mark "{text}" can not be read; it is left out.',
      'Die Tempoangabe „{text}“ ist nicht zu lesen; sie wird ausgelassen.',
    ],
    [
      'The tempo in line {line} is "{text}" quarters a minute, which is no tempo that can be played; it is left out.',
      'Das Tempo in Zeile {line} beträgt „{text}“ Viertel in der Minute und ist nicht spielbar; es wird ausgelassen.',
    ],
    [
      'A metronome mark says "{text}" beats a minute, which is not understood; it is left out.',
      'Eine Tempoangabe nennt „{text}“ Schläge in der Minute, was nicht verstanden wird; sie wird ausgelassen.',
    ],
    [
      'A metronome mark says "{text}" beats a minute, which is no tempo that can be played; it is left out.',
      'Eine Tempoangabe nennt „{text}“ Schläge in der Minute und ist nicht spielbar; sie wird ausgelassen.',
    ],
    [
      'A metronome mark has no note value that can be read; it is left out.',
      'Eine Tempoangabe hat keinen lesbaren Notenwert; sie wird ausgelassen.',
    ],
    [
      'The file\'s playback tempo is "{text}", which is no tempo that can be played; it is left out.',
      'Das Wiedergabetempo der Datei ist „{text}“ und nicht spielbar; es wird ausgelassen.',
    ],
    [
      'The file\'s playback tempo is "{text}" quarters a minute, which is no tempo that can be played; it is left out.',
      'Das Wiedergabetempo der Datei beträgt „{text}“ Viertel in der Minute und ist nicht spielbar; es wird ausgelassen.',
    ],
  ],
  'tempo-words-without-figure': [
    [
      '"{text}" in {bar} has no figure; the tempo before it goes on.',
      '„{text}“ in {bar:bar} hat keine Zahl; das Tempo davor gilt weiter.',
    ],
  ],
  'tie-drawn-only': [
    [
      'A tie is drawn but not marked as sounding ({many}); the notes are joined as drawn.',
      'Ein Haltebogen ist gezeichnet, aber nicht als klingend vermerkt ({many:times}); die Noten werden verbunden, wie gezeichnet.',
    ],
  ],
  'tie-not-ended': [
    [
      'A tie begins but no note follows it on {pitch}: the note keeps its own length.',
      'Ein Haltebogen beginnt auf {pitch:pitch}, aber keine Note folgt ihm: Die Note behält ihre Länge.',
    ],
    [
      'A tie leads to a note of another pitch ({many}); it is read as the slur that it is on paper.',
      'Ein Haltebogen führt zu einem anderen Ton ({many:times}); er gilt als der Bindebogen, der er auf dem Papier ist.',
    ],
  ],
  'tie-without-start': [
    [
      'A tie ends but none began on {pitch}: the note keeps its own length.',
      'Ein Haltebogen endet auf {pitch:pitch}, aber keiner hat begonnen: Die Note behält ihre Länge.',
    ],
  ],
  'transpose-by-staff': [
    [
      'The staves of this part transpose differently; all are read with the first transposition, so pitches of the other staves may be off.',
      'Die Systeme dieser Stimme transponieren verschieden; für alle gilt die erste Transposition, Tonhöhen der anderen Systeme können also falsch sein.',
    ],
  ],
  'transpose-steps-missing': [
    [
      'A transposition tells its semitones but not its steps; the usual interval of that size is taken.',
      'Eine Transposition nennt ihre Halbtöne, aber nicht ihre Stufen; es gilt das übliche Intervall dieser Größe.',
    ],
  ],
  'transpose-unreadable': [
    [
      '"{kind}={text}" can not be read; it is left out.',
      '„{kind}={text}“ ist nicht zu lesen; es wird ausgelassen.',
    ],
    [
      '"%%MIDI transpose {text}" can not be read; it is left out.',
      '„%%MIDI transpose {text}“ ist nicht zu lesen; es wird ausgelassen.',
    ],
    [
      'A transposition can not be read; it is left out.',
      'Eine Transposition ist nicht zu lesen; sie wird ausgelassen.',
    ],
  ],
  'tuplet-unreadable': [
    [
      'A tuplet of {p} in the time of {normal} for {n} notes makes no sense; its notes keep their length.',
      'Eine Gruppe von {p} in der Zeit von {normal} für {n} Noten ergibt keinen Sinn; ihre Noten behalten ihre Länge.',
    ],
    [
      'A tuplet stands within {n} others, which makes no sense; its notes keep their length.',
      'Eine Gruppe (Triole und dergleichen) steht in {n} anderen, was keinen Sinn ergibt; ihre Noten behalten ihre Länge.',
    ],
    [
      'A tuplet of {n} lacks a note at the end; those that are there keep their place in it.',
      'Einer Gruppe von {n} fehlt am Ende eine Note; die vorhandenen behalten ihren Platz darin.',
    ],
    [
      'A tuplet of {n} lacks {left} notes at the end; those that are there keep their place in it.',
      'Einer Gruppe von {n} fehlen am Ende {left} Noten; die vorhandenen behalten ihren Platz darin.',
    ],
    [
      'A tuplet does not say how many notes stand in the time of how many; its notes are kept as plain notes of their length.',
      'Eine Gruppe (Triole und dergleichen) sagt nicht, wie viele Noten in der Zeit von wie vielen stehen; ihre Noten bleiben gewöhnliche Noten ihrer Länge.',
    ],
  ],
};
