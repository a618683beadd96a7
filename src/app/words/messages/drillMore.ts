/** The drill, continued: numbers, parts, placements, tempo, places. */
import type { Pair } from '../patterns.ts';

const notANumber = (english: string, german: string): readonly Pair[] => [
  [`"{text}" is not a number: ${english}.`, `„{text}“ ist keine Zahl: ${german}.`],
  [`{text} is not a whole number: ${english}.`, `{text:decimal} ist keine ganze Zahl: ${german}.`],
];

const damagedRecord = (english: string, german: string): Pair => [
  `${english} on the shelf is damaged: its field "{field}" is missing or is not what it should be ({_why}). It is left out; all else is there.`,
  `${german} im Regal ist beschädigt (Feld „{field}“) und wird ausgelassen; alles andere ist da.`,
];

const damagedShelf = (english: string, german: string): Pair => [
  `This shelf is damaged: ${english}. It may have been cut short on its way; take it along once more from where it came.`,
  `Dieses Regal ist beschädigt: ${german}. Vielleicht wurde es unterwegs abgeschnitten; am besten noch einmal von dort mitnehmen, woher es kam.`,
];

export const drillMore: Readonly<Record<string, readonly Pair[]>> = {
  'number-out-of-range': [
    [
      'The number of repetitions is {n}; it must be a whole number from {least} to {most}.',
      'Die Zahl der Wiederholungen ist {n:decimal}; möglich sind ganze Zahlen von {least} bis {most}.',
    ],
    [
      'The gap between repetitions is {n}; it must be a whole number from {least} to {most}.',
      'Der Abstand zwischen den Wiederholungen ist {n:decimal}; möglich sind ganze Zahlen von {least} bis {most}.',
    ],
    [
      'The time through is {n}; it must be a whole number from {least} to {most}.',
      'Der Durchgang ist {n:decimal}; möglich sind ganze Zahlen von {least} bis {most}.',
    ],
    [
      'The number of bars with the click is {n}; it must be a whole number from {least} to {most}.',
      'Die Zahl der Takte mit Klick ist {n:decimal}; möglich sind ganze Zahlen von {least} bis {most}.',
    ],
    [
      'The number of bars without the click is {n}; it must be a whole number from {least} to {most}.',
      'Die Zahl der Takte ohne Klick ist {n:decimal}; möglich sind ganze Zahlen von {least} bis {most}.',
    ],
  ],
  'number-unknown': [
    ...notANumber('which time through is written as pass 2', 'der Durchgang wird geschrieben wie 2'),
    ...notANumber(
      'the number of repetitions is written as times 4',
      'die Zahl der Wiederholungen wird geschrieben wie 4',
    ),
    ...notANumber(
      'the number of silent bars between repetitions is written as gap 1',
      'die Zahl der stillen Takte zwischen den Wiederholungen wird geschrieben wie 1',
    ),
    ...notANumber(
      'the sample rate in Hz is written as rate 48000',
      'die Abtastrate in Hz wird geschrieben wie 48000',
    ),
    ...notANumber(
      'the depth in bits is written as depth 16, 24 or 32',
      'die Tiefe in Bit ist 16, 24 oder 32',
    ),
    [
      '"{text}" is not a number: the pitch of A is written as pitch 415.',
      '„{text}“ ist keine Zahl: die Höhe des A in Hz wird geschrieben wie 415.',
    ],
  ],
  'octave-out-of-range': [
    [
      'Part {id} can not sound {n} octaves away: say -4 to 4.',
      'Stimme {id} kann nicht {n} Oktaven entfernt klingen: möglich sind -4 bis 4.',
    ],
  ],
  'octave-unknown': [
    [
      '"{text}" is not understood: say the part and how many octaves it sounds above what is written, as P1=+1.',
      '„{text}“ wird nicht verstanden: Gebraucht werden die Stimme und wie viele Oktaven sie höher klingt als geschrieben, etwa P1=+1.',
    ],
  ],
  'octave-unmarked': [
    [
      '"{part}" looks like {instrument}, which usually sounds an octave higher than written, but the score does not say so. It is read as sounding where it is written; if it sounds an octave [higher|lower], say --octave {_id}={_by}.',
      '„{part}“ sieht nach {instrument:instrument} aus, die eine Oktave höher klingt als geschrieben; die Partitur sagt es aber nicht. Die Stimme klingt hier wie geschrieben; bei den Angaben zum Stück lässt sich die Oktave einstellen.',
    ],
    [
      '"{part}" looks like {instrument}, which usually sounds an octave lower than written, but the score does not say so. It is read as sounding where it is written; if it sounds an octave [higher|lower], say --octave {_id}={_by}.',
      '„{part}“ sieht nach {instrument:instrument} aus, wo üblicherweise eine Oktave tiefer klingt als geschrieben; die Partitur sagt es aber nicht. Die Stimme klingt hier wie geschrieben; bei den Angaben zum Stück lässt sich die Oktave einstellen.',
    ],
  ],
  'part-unknown': [
    [
      'The score has no part "{id}". Its parts are {parts}.',
      'Die Partitur hat keine Stimme „{id}“. Ihre Stimmen: {parts:none}.',
    ],
    [
      'There is no part "{name}": this score has bars only.',
      'Eine Stimme „{name}“ gibt es nicht: Diese Partitur hat nur Takte.',
    ],
    [
      'There is no part "{name}": the parts are {parts}.',
      'Eine Stimme „{name}“ gibt es nicht. Die Stimmen: {parts}.',
    ],
    ['There is no part "{name}" in this drill.', 'Eine Stimme „{name}“ gibt es in dieser Übung nicht.'],
    [
      'There is no part "{name}" to be heard or left out. This drill has no parts.',
      'Eine Stimme „{name}“ gibt es nicht. Diese Übung hat keine Stimmen.',
    ],
    [
      'There is no part "{name}" to be heard or left out. The parts are {parts}.',
      'Eine Stimme „{name}“ gibt es nicht. Die Stimmen: {parts}.',
    ],
    [
      'There is no part "{name}". The parts are {parts}.',
      'Eine Stimme „{name}“ gibt es nicht. Die Stimmen: {parts}.',
    ],
  ],
  'part-voice-unknown': [
    [
      'The file does not say what instrument "{part}" is. It sounds as a clarinet.',
      'Die Datei sagt nicht, welches Instrument „{part}“ ist. Es klingt als Klarinette.',
    ],
  ],
  'pass-unknown': [
    [
      'Bar {bar} is played {times}; there is no time {n}.',
      'Takt {bar} wird {times:times} gespielt; einen Durchgang {n} gibt es nicht.',
    ],
  ],
  'placement-lacks-metre': [
    [
      'The click placement "{text}" has no meaning in the bars of {metre}; they are clicked on their first beat.',
      'Der Klick „{text:clicks}“ hat in Takten von {metre:metre} keinen Sinn; dort klickt es auf den ersten Schlag.',
    ],
    [
      'The bars of {metre} have not all of the beats "{text}"; those that they have are clicked.',
      'Takte von {metre:metre} haben nicht alle Schläge „{text}“; geklickt werden die vorhandenen.',
    ],
    [
      'The click placement "{text}" has no meaning in {metre}. There you can have: {offers}.',
      'Der Klick {text:clicks} hat in {metre:metre} keinen Sinn. Dort geht: {offers:clicks}.',
    ],
    [
      'Bar {bar} has not all of "{text}"; what it has is clicked.',
      'Takt {bar} hat nicht alles von „{text:clicks}“; geklickt wird, was er hat.',
    ],
    [
      'A hemiola needs pairs of full bars of three beats, or full bars of 6/8 or 6/4; this bar is {metre}.',
      'Eine Hemiole braucht Paare voller Takte zu drei Schlägen oder volle Takte in 6/8 oder 6/4; dieser Takt steht in {metre:metre}.',
    ],
    [
      'A hemiola needs pairs of full bars of three beats, or full bars of 6/8 or 6/4; these {n} bars are {metre}.',
      'Eine Hemiole braucht Paare voller Takte zu drei Schlägen oder volle Takte in 6/8 oder 6/4; diese {n} Takte stehen in {metre:metre}.',
    ],
  ],
  'placement-unknown': [
    [
      '"{text}" is no click placement. Say every, half, weak, after, bar, 2bars (4bars ...), a note value such as 1/8, hemiola:14-15, none, or beats as "2 4" or "1 2&"; a comma, then "12:1 3", for bars apart.',
      '„{text}“ ist keine Angabe für den Klick. Möglich sind Schläge wie „2 4“ oder „1 2&“, ein Notenwert wie 1/8, hemiola:14-15, oder every, half, weak, after, bar, 2bars (4bars ...), none; nach einem Komma „12:1 3“ für einzelne Takte.',
    ],
  ],
  'places-no-metre': [
    [
      '[The music has|Some bars have] no metre: what depends on beats is not found there.',
      'Takte ohne Taktart: Was von Schlägen abhängt, wird dort nicht gefunden.',
    ],
  ],
  'places-no-parts': [
    [
      'This score has bars but no parts: only changes of metre and tempo can be found.',
      'Diese Partitur hat Takte, aber keine Stimmen: Nur Takt- und Tempowechsel sind zu finden.',
    ],
  ],
  'places-one-part': [
    [
      'There is one part only: nobody to hand a line to. What one player has to watch is told.',
      'Es gibt nur eine Stimme, also niemanden, dem eine Linie zu übergeben wäre. Gesagt wird, worauf man allein achtet.',
    ],
  ],
  'places-part-silent': [['{part} has no notes.', '{part} hat keine Noten.']],
  'places-unpitched': [
    [
      '{part} has no pitches: lines that it shares are found by rhythm, where they are handed over more than once; imitation is not looked for.',
      '{part} hat keine Tonhöhen: Geteilte Linien werden am Rhythmus erkannt, wenn sie mehrmals weitergereicht werden; Imitation wird nicht gesucht.',
    ],
  ],
  'staff-out-of-range': [
    [
      'A staff {size} mm high cannot be engraved: from {least} to {most} mm is taken.',
      'Ein System von {size:decimal} mm Höhe lässt sich nicht stechen: möglich sind {least:decimal} bis {most:decimal} mm.',
    ],
  ],
  'system-too-tall': [
    [
      'The staves of all parts together are higher than the paper, even small. Choose fewer parts, or upright paper.',
      'Die Systeme aller Stimmen zusammen sind auch klein höher als das Papier. Weniger Stimmen oder Hochformat gehen.',
    ],
    [
      'The staves of all parts together are higher than the paper, even small.',
      'Die Systeme aller Stimmen zusammen sind auch klein höher als das Papier.',
    ],
  ],
  'tacet-unknown': [
    [
      '"{text}" is not understood: say how many bars with the click and how many without, as 2/2, or none.',
      '„{text}“ wird nicht verstanden: Gebraucht werden die Takte mit und ohne Klick, etwa 2/2, oder none.',
    ],
  ],
  'tempo-absurd tempo-zero': [
    [
      '{text} of the written tempo cannot be played: from 10% to 400% is taken.',
      '{text} des geschriebenen Tempos sind nicht spielbar: möglich sind 10% bis 400%.',
    ],
  ],
  'tempo-levelled': [
    [
      'The score changes tempo in this passage; the tempo you gave holds throughout. Write a share such as 80% to keep the changes.',
      'Die Partitur wechselt an dieser Stelle das Tempo; das eingetragene gilt durchweg. Mit einem Anteil wie 80% bleiben die Wechsel.',
    ],
  ],
  'tempo-unknown': [
    [
      '"{text}" is no tempo. Write beats a minute (90), a note value (1/4.=60), or a share of the written tempo (80%).',
      '„{text}“ ist kein Tempo. Möglich sind Schläge in der Minute (90), ein Notenwert (1/4.=60) oder ein Anteil des geschriebenen Tempos (80%).',
    ],
  ],
  'too-long': [
    [
      'What is given for {word} has {n} characters; at most {most} are read.',
      'Die Angabe für {word} hat {n} Zeichen; gelesen werden höchstens {most}.',
    ],
  ],
  'tuplets-left-out': [
    [
      'A note in a tuplet is left out: tuplets are a class of their own. Add 1/8t (or another value with t) to keep them.',
      'Eine Note in einer Triole oder ähnlichen Gruppe wird ausgelassen: Solche Gruppen zählen für sich. Mit 1/8t (oder einem anderen Wert mit t) bleiben sie.',
    ],
    [
      '{n} notes in tuplets are left out: they are a class of their own. Add 1/8t (or another value with t) to keep them.',
      '{n} Noten in Triolen oder ähnlichen Gruppen werden ausgelassen: Solche Gruppen zählen für sich. Mit 1/8t (oder einem anderen Wert mit t) bleiben sie.',
    ],
  ],
  'upbeat-unknown': [
    [
      '"{text}" is no upbeat. Say auto, none, or a length such as 1/4.',
      '„{text}“ ist kein Auftakt. Möglich sind auto, none oder eine Länge wie 1/4.',
    ],
    [
      'Nothing is played before this passage, so it has no upbeat of {length}.',
      'Vor dieser Stelle wird nichts gespielt; sie hat also keinen Auftakt von {length}.',
    ],
    [
      'The bar before this passage lasts {bar}, less than an upbeat of {length}.',
      'Der Takt vor dieser Stelle dauert {bar}, weniger als ein Auftakt von {length}.',
    ],
  ],
  'word-unknown': [
    [
      '"{text}" is not understood: the place of the click is {choices}.',
      '„{text}“ wird nicht verstanden: Der Platz des Klicks ist {choices:or}.',
    ],
    [
      '"{text}" is not understood: the language is {choices}.',
      '„{text}“ wird nicht verstanden: Die Sprache ist {choices:or}.',
    ],
    [
      '"{text}" is not understood: the paper is {choices}.',
      '„{text}“ wird nicht verstanden: Das Papier ist {choices:or}.',
    ],
    [
      '"{text}" is not understood: what becomes of the other notes is {choices}.',
      '„{text}“ wird nicht verstanden: Für die übrigen Noten gibt es {choices:or}.',
    ],
  ],
  'shelf-blocked': [
    [
      'This browser keeps nothing for this page: a private window, or storage that is switched off. Everything works, but the shelf is gone with this window: take it along as a file before.',
      'Dieser Browser bewahrt für diese Seite nichts auf: ein privates Fenster oder abgeschalteter Speicher. Alles geht, aber mit diesem Fenster ist das Regal fort; vorher als Datei mitnehmen.',
    ],
  ],
  'shelf-damaged': [
    damagedShelf('its list of pieces is no JSON any more', 'Seine Liste der Stücke ist kein JSON mehr'),
    damagedShelf('its list does not say that it is one', 'Seine Liste sagt nicht, dass sie eine ist'),
    damagedShelf(
      'the field "{field}" of its list is not what it should be ({_why})',
      'Das Feld „{field}“ seiner Liste ist nicht, was es sein sollte',
    ),
    damagedShelf('its table of contents is missing', 'Sein Inhaltsverzeichnis fehlt'),
    damagedShelf('there is no shelf.json in it', 'Es enthält keine shelf.json'),
    damagedShelf(
      'its list of pieces can not be unpacked',
      'Seine Liste der Stücke lässt sich nicht entpacken',
    ),
  ],
  'shelf-full': [
    [
      'This device has no room left: the last changes are not kept yet, and would be gone with this window. Take the shelf along as a file, or make room; then they are kept with your next change.',
      'Auf diesem Gerät ist kein Platz mehr: Die letzten Änderungen sind noch nicht aufbewahrt und wären mit diesem Fenster fort. Das Regal als Datei mitnehmen oder Platz schaffen; mit der nächsten Änderung werden sie aufbewahrt.',
    ],
  ],
  'shelf-later': [
    [
      '{names}: what a later version of Levare keeps is kept here too, and not shown.',
      '{names}: Was eine spätere Fassung von Levare aufbewahrt, bleibt auch hier erhalten und wird nicht gezeigt.',
    ],
  ],
  'shelf-newer': [
    [
      'A newer Levare has the shelf of this browser. Close the other windows of Levare and load this one anew; nothing is lost.',
      'Ein neueres Levare hat das Regal dieses Browsers. Die anderen Fenster von Levare schließen und dieses neu laden; nichts ist verloren.',
    ],
  ],
  'shelf-record-damaged': [
    damagedRecord('An ensemble', 'Ein Ensemble'),
    damagedRecord('A piece', 'Ein Stück'),
    damagedRecord('A saved drill', 'Eine gesicherte Übung'),
    damagedRecord('A take', 'Eine Aufnahme'),
    damagedRecord('A record of the journal', 'Ein Eintrag im Journal'),
    damagedRecord('[A record|A marking]', 'Ein Eintrag'),
  ],
  'shelf-score-damaged': [
    [
      'The score of "{title}" is damaged or missing in this file. All else about the piece is taken; open its score once more from where you have it.',
      'Die Partitur von „{title}“ ist in dieser Datei beschädigt oder fehlt. Alles andere zum Stück ist übernommen; die Partitur bitte noch einmal öffnen.',
    ],
  ],
};
