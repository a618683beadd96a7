/** Bar plans: pieces that are written down as bars and marks. */
import type { Pair } from '../patterns.ts';

export const barPlan: Readonly<Record<string, readonly Pair[]>> = {
  'bar-number-absurd': [['No piece has a bar {n}.', 'Kein Stück hat einen Takt {n}.']],
  'bar-number-ambiguous': [
    [
      'Bar {n} is there {times} times; the first is taken. To mean another, count from the beginning of the plan: "{nth}th bar".',
      'Takt {n} gibt es {times}-mal; der erste gilt. Für einen anderen vom Anfang des Plans zählen: „{nth}th bar“.',
    ],
  ],
  'bar-number-missing': [
    ['Here the number of a bar is missing, such as "at 17".', 'Hier fehlt eine Taktzahl, etwa „at 17“.'],
  ],
  'bar-numbers-gap': [
    [
      'Bar {first} follows bar {last}: taken as a gap in the numbers, not in the music. If the paper has it so, add "renumbered".',
      'Takt {first} folgt auf Takt {last}: Das gilt als Lücke in den Nummern, nicht in der Musik. Steht es so auf dem Papier, „renumbered“ ergänzen.',
    ],
  ],
  'bar-numbers-overlap': [
    [
      'Bar {n} comes after bar {last}, or twice. If the paper counts anew here, add "renumbered".',
      'Takt {n} kommt nach Takt {last} oder zweimal. Zählt das Papier hier neu, „renumbered“ ergänzen.',
    ],
  ],
  'bar-range-empty': [['No bars are asked for here.', 'Hier werden keine Takte verlangt.']],
  'bar-unknown': [
    ['The plan has {n} [bar|bars], fewer than that.', 'Der Plan hat nur {n} {n|Takt|Takte}.'],
    [
      'Bar {n} is not in the plan, which ends with bar {last}.',
      'Takt {n} steht nicht im Plan; er endet mit Takt {last}.',
    ],
  ],
  'bars-reversed': [
    [
      'Bars {first}-{last} run backwards. Write the first bar first: {last}-{first}.',
      'Die Takte {first}-{last} laufen rückwärts. Der erste Takt steht vorn: {last}-{first}.',
    ],
    ['This repeat ends before it begins.', 'Diese Wiederholung endet, bevor sie beginnt.'],
    ['This ending stops before it begins.', 'Diese Klammer endet, bevor sie beginnt.'],
  ],
  'length-missing': [
    [
      'Here the distance from the bar line is missing, such as 1/4 or 3/8.',
      'Hier fehlt der Abstand vom Taktstrich, etwa 1/4 oder 3/8.',
    ],
    ['Here the length is missing, such as 1/4 or 3/8.', 'Hier fehlt die Länge, etwa 1/4 oder 3/8.'],
    [
      'Here the length of the pickup is missing, such as 1/4 or 3/8.',
      'Hier fehlt die Länge des Auftakts, etwa 1/4 oder 3/8.',
    ],
    ['Here the old beat is missing, such as 1/4 or 3/8.', 'Hier fehlt der alte Schlag, etwa 1/4 oder 3/8.'],
    ['Here the new beat is missing, such as 1/4 or 3/8.', 'Hier fehlt der neue Schlag, etwa 1/4 oder 3/8.'],
    [
      'Bars without metre need a length: write, for example, "12 free lasts 9/4".',
      'Takte ohne Taktart brauchen eine Länge: etwa „12 free lasts 9/4“.',
    ],
  ],
  'length-zero': [
    [
      'A [distance from the bar line|length|length of the pickup|old beat|new beat|beat] of {value} lasts no time. Write a note value such as 1/4.',
      'Eine Länge von {value} dauert nicht. Gebraucht wird ein Notenwert wie 1/4.',
    ],
  ],
  'metre-missing': [
    [
      'The metre is missing. Write, for example, "1-16 4/4".',
      'Die Taktart fehlt. Zu schreiben wäre etwa „1-16 4/4“.',
    ],
  ],
  'metre-unreadable': [
    [
      'A metre of {text} has a zero in it, so that its bars would have no length.',
      'Die Taktart {text} enthält eine Null; ihre Takte hätten keine Länge.',
    ],
    [
      'The metre {text} goes beyond any music. It looks like a slip.',
      'Die Taktart {text} geht über jede Musik hinaus, vermutlich ein Tippfehler.',
    ],
  ],
  'metre-unusual': [
    [
      'The metre {metre} is unusual; it is kept as written.',
      'Die Taktart {metre:metre} ist ungewöhnlich; sie bleibt, wie sie steht.',
    ],
  ],
  'metre-without-bars': [
    [
      'Which bars are in {metre}? Write, for example, "1-16 {metre}".',
      'Welche Takte stehen in {metre}? Zu schreiben wäre etwa „1-16 {metre}“.',
    ],
  ],
  'pickup-too-long': [
    [
      'A pickup of {length} fills a bar of {metre}. Give it a bar number instead.',
      'Ein Auftakt von {length} füllt einen Takt in {metre:metre}. Er braucht eine Taktzahl.',
    ],
  ],
  'pickup-twice': [
    [
      'The plan has two pickups. A later short bar is written "16b 4/4 lasts 1/4 pickup".',
      'Der Plan hat zwei Auftakte. Ein späterer kurzer Takt wird „16b 4/4 lasts 1/4 pickup“ geschrieben.',
    ],
  ],
  'position-outside-bar': [
    [
      'Bar {bar} lasts {length}, less than {offset}.',
      'Takt {bar:where} dauert {length:length}, weniger als {offset}.',
    ],
  ],
  'quotation-open': [
    ['This quotation mark is never closed.', 'Dieses Anführungszeichen wird nie geschlossen.'],
  ],
  'tempo-unit-assumed': [
    [
      'The tempo {tempo} names no note value; it is taken to count the beats of bar {bar}.',
      'Das Tempo {tempo:decimal} nennt keinen Notenwert; es zählt die Schläge von Takt {bar}.',
    ],
  ],
  'tempo-absurd': [
    [
      'A tempo of {unit} = {tempo} is hardly meant; it is kept as written.',
      'Ein Tempo von {unit} = {tempo:decimal} ist kaum gemeint; es bleibt, wie es steht.',
    ],
  ],
  'tempo-zero': [
    [
      'A tempo of {n} beats a minute never moves on. Write, for example, 1/4=92.',
      'Ein Tempo von {n} Schlägen in der Minute kommt nie voran. Zu schreiben wäre etwa 1/4=92.',
    ],
  ],
  'text-missing': [
    [
      'Here the printed text is missing. Texts of several words stand in quotation marks.',
      'Hier fehlt der gedruckte Text. Texte aus mehreren Wörtern stehen in Anführungszeichen.',
    ],
    [
      'Here the text is missing. Texts of several words stand in quotation marks.',
      'Hier fehlt der Text. Texte aus mehreren Wörtern stehen in Anführungszeichen.',
    ],
    [
      'Here the rehearsal mark is missing. Texts of several words stand in quotation marks.',
      'Hier fehlt das Studierzeichen. Texte aus mehreren Wörtern stehen in Anführungszeichen.',
    ],
  ],
  'too-many-bars': [
    [
      'This asks for {n} bars; a plan holds at most {most}. Is a digit typed twice?',
      'Das wären {n} Takte; ein Plan fasst höchstens {most}. Steht eine Ziffer doppelt?',
    ],
    ['The plan speaks of more than {most} bars.', 'Der Plan spricht von mehr als {most} Takten.'],
    ['The plan has more than {most} bars.', 'Der Plan hat mehr als {most} Takte.'],
  ],
  'word-unknown': [
    ['"{word}" is not understood here.', '„{word}“ wird hier nicht verstanden.'],
    [
      '"{word}" is not understood here. Did you mean "{other}"?',
      '„{word}“ wird hier nicht verstanden. Gemeint: „{other}“?',
    ],
    [
      '"{word}" is not understood here. A statement names bars ("1-16 4/4"), a pickup, a tempo, a repeat, an ending, a jump, words or a mark.{guess}',
      '„{word}“ wird hier nicht verstanden. Eine Angabe nennt Takte („1-16 4/4“), einen Auftakt, ein Tempo, eine Wiederholung, eine Klammer, einen Sprung, Worte oder ein Studierzeichen.{guess:guess}',
    ],
    ['"{word}" is not understood here.{guess}', '„{word}“ wird hier nicht verstanden.{guess:guess}'],
  ],
};
