/** MIDI, read and written. */
import type { Pair } from '../patterns.ts';

const moved =
  '{a} {a|Notenanfang|Notenanfänge} und {b} {b|Notenende|Notenenden} werden auf den nächsten Notenwert gerückt, um bis zu {by:decimal} eines Viertels.';

export const midi: Readonly<Record<string, readonly Pair[]>> = {
  'file-truncated': [
    [
      '{n} [track breaks|tracks break] off or [holds|hold] bytes that are no MIDI; what stands before is read.',
      '{n} {n|Spur bricht|Spuren brechen} ab oder {n|enthält|enthalten} Bytes, die kein MIDI sind; was davor steht, gilt.',
    ],
    [
      'The MIDI file breaks off in its header. Was it copied in full?',
      'Die MIDI-Datei bricht in ihrem Kopf ab. Wurde sie ganz kopiert?',
    ],
  ],
  'key-unreadable': [
    [
      '{n} key [signature has|signatures have] more than 7 sharps or flats; [it is|they are] left out.',
      '{n} {n|Vorzeichnung hat|Vorzeichnungen haben} mehr als 7 Kreuze oder Be und {n|wird|werden} ausgelassen.',
    ],
  ],
  'mark-behind-end': [
    [
      '{n} tempi or markers stand behind the last bar; they are put at its end.',
      '{n} Tempi oder Marken stehen hinter dem letzten Takt; sie rücken an sein Ende.',
    ],
  ],
  'metre-unreadable': [
    [
      '{n} time [signature has|signatures have] no beats, or beats shorter than a 1024th; [it is|they are] left out.',
      '{n} {n|Taktangabe hat|Taktangaben haben} keine Schläge oder kürzere als 1024stel und {n|wird|werden} ausgelassen.',
    ],
  ],
  'midi-channels-shared': [
    [
      'MIDI has {n} channels for parts: from the {nth}th part on they are shared, and so is their sound.',
      'MIDI hat {n} Kanäle für Stimmen: Ab der {nth}. Stimme werden sie geteilt, und damit auch ihr Klang.',
    ],
  ],
  'midi-division-zero': [
    [
      'The MIDI file says that a quarter has 0 ticks, so nothing in it has a place.',
      'Nach der MIDI-Datei hat ein Viertel 0 Ticks; nichts darin hat also einen Ort.',
    ],
  ],
  'midi-drums': [
    [
      'Channel 10 is percussion: its keys name instruments, which are not kept; they are drawn as the notes of these keys.',
      'Kanal 10 ist Schlagzeug: Seine Tasten stehen für Instrumente, die nicht übernommen werden; gezeichnet werden die Noten dieser Tasten.',
    ],
  ],
  'midi-event-broken': [
    [
      '{n} [event has|events have] a wrong length; [it is|they are] left out.',
      '{n} {n|Ereignis hat|Ereignisse haben} eine falsche Länge und {n|wird|werden} ausgelassen.',
    ],
  ],
  'midi-format-2': [
    [
      'This is a MIDI file of format 2, a collection of patterns that do not make one piece. Formats 0 and 1 are read.',
      'Das ist eine MIDI-Datei des Formats 2, eine Sammlung von Mustern, die kein Stück ergeben. Gelesen werden die Formate 0 und 1.',
    ],
  ],
  'midi-format-unknown': [
    ['MIDI files of format {n} are not known.', 'MIDI-Dateien des Formats {n} sind nicht bekannt.'],
  ],
  'midi-metre-left-out': [
    [
      'MIDI has no time signature for the length of bars {bars}; bar lines of other programs do not fit there.',
      'MIDI hat keine Taktangabe für die Länge der Takte {bars}; Taktstriche anderer Programme passen dort nicht.',
    ],
  ],
  'midi-metre-off-grid': [
    [
      '{n} time [signature stands|signatures stand] beside any note value; [it is|they are] moved to the nearest 96th of a quarter.',
      '{n} {n|Taktangabe steht|Taktangaben stehen} neben jedem Notenwert und {n|rückt|rücken} auf das nächste 96stel eines Viertels.',
    ],
  ],
  'midi-metre-summed': [
    [
      'MIDI writes one figure over one: the groups of the metre are summed in bars {bars} (3+2/8 is 5/8 there).',
      'MIDI schreibt eine Zahl über eine andere: In den Takten {bars} sind die Gruppen der Taktart zusammengezählt (3+2/8 ist dort 5/8).',
    ],
  ],
  'midi-no-header': [
    [
      'This is not a MIDI file: it does not begin with the letters MThd.',
      'Das ist keine MIDI-Datei: Sie beginnt nicht mit den Buchstaben MThd.',
    ],
  ],
  'midi-no-tracks': [
    [
      'The MIDI file holds no track. Was it copied in full?',
      'Die MIDI-Datei enthält keine Spur. Wurde sie ganz kopiert?',
    ],
  ],
  'midi-note-crowded': [
    [
      '{n} [note is|notes are] struck while 16 of the same key still sound; the first of these is ended [there|each time].',
      '{n} {n|Note wird|Noten werden} angeschlagen, während 16 derselben Taste noch klingen; die erste davon endet dann.',
    ],
  ],
  'midi-note-unclosed': [
    [
      '{n} [note is|notes are] never let go; [it lasts|they last] until the end of [its|their] track.',
      '{n} {n|Note wird|Noten werden} nie losgelassen und {n|dauert|dauern} bis zum Ende der Spur.',
    ],
  ],
  'midi-note-unopened': [
    [
      '{n} [note ends|notes end] that never began; [this end is|these ends are] passed over.',
      '{n} {n|Note endet, die nie begonnen hat; dieses Ende wird|Noten enden, die nie begonnen haben; diese Enden werden} übergangen.',
    ],
  ],
  'midi-part-missing': [
    [
      '{n} [note belongs to a part|notes belong to parts] that the extract does not name.',
      '{n} {n|Note gehört zu einer Stimme, die|Noten gehören zu Stimmen, die} der Auszug nicht nennt.',
    ],
  ],
  'midi-pitch-outside': [
    [
      '{n} [note|notes] of {part} [lies|lie] outside the 128 keys of MIDI and [is|are] left out.',
      '{part}: {n} {n|Note liegt|Noten liegen} außerhalb der 128 Tasten von MIDI und {n|wird|werden} ausgelassen.',
    ],
  ],
  'midi-pitch-rounded': [
    [
      '{n} [note|notes] of {part} [stands|stand] between two keys and [is|are] rounded to the nearer (halves up).',
      '{part}: {n} {n|Note steht|Noten stehen} zwischen zwei Tasten und {n|wird|werden} auf die nähere gerundet (Hälften nach oben).',
    ],
  ],
  'midi-position-rounded': [
    [
      'MIDI has no room for {n} [position of this music: it is|positions of this music: they are] moved by up to 1/{by} of a quarter.',
      'MIDI hat keinen Platz für {n} {n|Stelle|Stellen} dieser Musik: {n|Sie rückt|Sie rücken} um bis zu 1/{by} eines Viertels.',
    ],
  ],
  'midi-quantised': [
    [
      'The file was written, not played, but not all of it lies on note values: {a} [onset|onsets] and {b} [end of a note|ends of notes] are moved to the nearest note value, by up to {by} of a quarter.',
      `Die Datei ist geschrieben, nicht gespielt, aber nicht alles darin liegt auf Notenwerten: ${moved}`,
    ],
    [
      'The file seems to be played, not written: {a} [onset|onsets] and {b} [end of a note|ends of notes] are moved to the nearest note value, by up to {by} of a quarter.',
      `Die Datei scheint gespielt, nicht geschrieben: ${moved}`,
    ],
  ],
  'midi-smpte': [
    [
      'This MIDI file counts film frames and not beats, so it says nothing of bars. Export it with ticks per quarter.',
      'Diese MIDI-Datei zählt Filmbilder statt Schläge und sagt deshalb nichts über Takte. Sie sollte mit Ticks je Viertel exportiert werden.',
    ],
  ],
  'midi-tempo-steps': [
    [
      'MIDI knows no gradual tempo: in {n} places it is written as steps, one for each quarter and each click.',
      'MIDI kennt kein allmähliches Tempo: An {n} Stellen steht es in Stufen, eine für jedes Viertel und jeden Klick.',
    ],
  ],
  'midi-ticks-rounded': [
    [
      '{n} [onset or end lies|onsets and ends lie] between the ticks of the file; the note [value that it stands|values that they stand] for [is|are] taken.',
      '{n} {n|Anfang oder Ende liegt|Anfänge und Enden liegen} zwischen den Ticks der Datei; es gilt der gemeinte Notenwert.',
    ],
  ],
  'midi-tracks-extra': [
    [
      '{n} [track|tracks] more than the header promises [is|are] there; [it is|they are] read.',
      '{n} {n|Spur|Spuren} mehr, als der Kopf verspricht; {n|sie wird|sie werden} gelesen.',
    ],
  ],
  'midi-tracks-missing': [
    [
      '{n} [track is|tracks are] promised by the header and [is|are] not there. Was the file copied in full?',
      '{n} {n|Spur fehlt, die|Spuren fehlen, die} der Kopf verspricht. Wurde die Datei ganz kopiert?',
    ],
  ],
  'midi-unpitched': [
    [
      '{n} [note|notes] of {part} [has|have] no pitch and [is|are] written as side stick on the percussion channel.',
      '{part}: {n} {n|Note|Noten} ohne Tonhöhe, geschrieben als Randschlag auf dem Schlagzeugkanal.',
    ],
  ],
  'midi-unreadable': [
    ['A track of the MIDI file cannot be decoded.', 'Eine Spur der MIDI-Datei ist nicht zu entschlüsseln.'],
    ['The MIDI file has no metre.', 'Die MIDI-Datei hat keine Taktart.'],
  ],
  'pickup-assumed': [
    [
      'The first bar lasts {length} and the metre changes after it: it is taken as a pickup, bar 0.',
      'Der erste Takt dauert {length:length}, und danach wechselt die Taktart: Er gilt als Auftakt, Takt 0.',
    ],
  ],
  'tempo-absurd': [
    [
      '{n} [tempo lies|tempi lie] outside 5 to 1000 quarters a minute; [it is|they are] kept as [it is|they are].',
      '{n} {n|Tempo liegt|Tempi liegen} außerhalb von 5 bis 1000 Vierteln in der Minute und {n|bleibt|bleiben} so.',
    ],
    [
      'MIDI cannot say a tempo this slow or this fast; the file runs at the nearest that it can (3.6 quarters a minute is its slowest).',
      'So langsam oder schnell kann MIDI kein Tempo angeben; die Datei läuft mit dem nächstmöglichen (am langsamsten sind 3,6 Viertel in der Minute).',
    ],
  ],
  'tempo-corrections': [
    [
      '{n} tempo [change|changes] of at most 4 microseconds a quarter [is a correction|are corrections] of that rounding and [is|are] passed over.',
      '{n} {n|Tempoänderung|Tempoänderungen} von höchstens 4 Mikrosekunden je Viertel {n|gleicht|gleichen} diese Rundung aus und {n|wird|werden} übergangen.',
    ],
  ],
  'tempo-rounded': [
    [
      '{n} [tempo is|tempi are] rounded to whole microseconds in the file; the plain [figure that it stands|figures that they stand] for [is|are] taken.',
      '{n} {n|Tempo ist|Tempi sind} in der Datei auf ganze Mikrosekunden gerundet; es gilt die gemeinte runde Zahl.',
    ],
  ],
  'tempo-zero': [
    [
      '{n} tempo [change says|changes say] that a quarter lasts no time; [it is|they are] left out.',
      'Nach {n} {n|Tempoänderung|Tempoänderungen} dauert ein Viertel nicht; {n|sie wird|sie werden} ausgelassen.',
    ],
  ],
  'text-shortened': [
    [
      '{n} [text is|texts are] longer than 4096 bytes; the rest of [it|them] is left out.',
      '{n} {n|Text ist|Texte sind} länger als 4096 Bytes; der Rest wird ausgelassen.',
    ],
  ],
};
