/** Files, text, XML, the engraver. */
import type { Pair } from '../patterns.ts';

const wrongLetters = 'Namen und Wörter können falsche Buchstaben zeigen, Noten sind nicht betroffen.';

export const files: Readonly<Record<string, readonly Pair[]>> = {
  'click-level': [
    [
      "The click's level is given as {level} dB. It is the peak below full scale: from {least} (barely there) to {most} (as loud as can be without distortion); {usual} is usual.",
      'Der Pegel des Klicks ist mit {level:decimal} dB angegeben. Er ist die Spitze unter Vollaussteuerung: von {least} (kaum da) bis {most} (so laut wie ohne Verzerrung möglich); üblich ist {usual}.',
    ],
  ],
  'click-outside': [
    [
      "A click lies on sample {at}, but the sound has samples 0 to {last}. The drill's length and its clicks contradict each other.",
      'Ein Klick liegt auf Abtastwert {at}, aber der Klang hat nur 0 bis {last}. Länge und Klicks der Übung widersprechen sich.',
    ],
  ],
  'container-missing': [
    [
      'The compressed file does not say which file inside it is the score; "{name}", the only candidate, is read.',
      'Die gepackte Datei sagt nicht, welche Datei darin die Partitur ist; gelesen wird „{name}“, die einzig mögliche.',
    ],
  ],
  'container-unclear': [
    [
      'The compressed file holds {n} XML files and does not say which of them is the score.',
      'Die gepackte Datei enthält {n} XML-Dateien und sagt nicht, welche davon die Partitur ist.',
    ],
  ],
  defect: [
    ['The program itself broke on this: {why}', 'Das Programm selbst ist hieran gescheitert („{why}“).'],
  ],
  'encoding-broken': [
    [
      'The text is marked as UTF-16 but is cut off or damaged inside.',
      'Der Text ist als UTF-16 gekennzeichnet, aber abgeschnitten oder beschädigt.',
    ],
  ],
  'encoding-unknown': [
    [
      'The file says that its text is encoded as "{name}", which can not be read. Save it as UTF-8.',
      'Die Datei nennt für ihren Text die Kodierung „{name}“, die nicht gelesen wird. Sie sollte als UTF-8 gespeichert werden.',
    ],
    [
      'The text is UTF-32, which is not read. Save it as UTF-8.',
      'Der Text ist UTF-32, das nicht gelesen wird. Er sollte als UTF-8 gespeichert werden.',
    ],
  ],
  'encoding-wrong': [
    [
      'The text should be UTF-8, and its bytes are not. It was read as Western European (windows-1252): names and words may show wrong letters, notes are not touched.',
      `Der Text müsste UTF-8 sein, seine Bytes sind es nicht. Er wurde als westeuropäisch (windows-1252) gelesen: ${wrongLetters}`,
    ],
    [
      'The text should be UTF-8, and its bytes are not. It was read as {other}: names and words may show wrong letters, notes are not touched.',
      `Der Text müsste UTF-8 sein, seine Bytes sind es nicht. Er wurde als {other} gelesen: ${wrongLetters}`,
    ],
    [
      'The file says that its text is {name}, but its bytes are not. It was read as Western European (windows-1252): names and words may show wrong letters, notes are not touched.',
      `Die Datei nennt ihren Text {name}, seine Bytes sind es nicht. Er wurde als westeuropäisch (windows-1252) gelesen: ${wrongLetters}`,
    ],
    [
      'The file says that its text is {name}, but its bytes are not. It was read as {other}: names and words may show wrong letters, notes are not touched.',
      `Die Datei nennt ihren Text {name}, seine Bytes sind es nicht. Er wurde als {other} gelesen: ${wrongLetters}`,
    ],
    [
      'The file says that its text is {name}, which is not read from such a note; letters with accents may show wrong, notes are not touched.',
      'Die Datei nennt ihren Text {name}, was aus einem solchen Vermerk nicht gelesen wird; Umlaute und Akzente können falsch sein, Noten sind nicht betroffen.',
    ],
  ],
  'engraving-failed': [
    ['The engraved page lacks its staves.', 'Der gestochenen Seite fehlen ihre Systeme.'],
    ['{n} bars were to be engraved, {done} were.', '{n} Takte waren zu stechen, gestochen sind {done}.'],
    ['Nothing was engraved.', 'Es wurde nichts gestochen.'],
    [
      'The engraver broke on this passage. Try fewer bars or parts.',
      'Der Notenstich ist an dieser Stelle gescheitert. Weniger Takte oder Stimmen gehen vielleicht.',
    ],
    ['The engraver could not be started.', 'Der Notenstich ließ sich nicht starten.'],
    [
      'The engraver gave up on this passage. Try fewer bars or parts.',
      'Der Notenstich hat an dieser Stelle aufgegeben. Weniger Takte oder Stimmen gehen vielleicht.',
    ],
  ],
  'engraving-timeout': [
    [
      'Starting the engraver took longer than {n} s and was ended. Try again when the computer is less busy.',
      'Der Start des Notenstichs dauerte länger als {n} s und wurde abgebrochen. Später geht es vielleicht, wenn der Rechner weniger zu tun hat.',
    ],
    [
      'Engraving took longer than {n} s and was ended. Try fewer bars.',
      'Der Notenstich dauerte länger als {n} s und wurde abgebrochen. Weniger Takte gehen vielleicht.',
    ],
  ],
  'file-empty': [
    [
      'The plan is empty. Write, for example, "pickup 1/4; 1-16 4/4 twice; tempo 1/4=92".',
      'Der Plan ist leer. Zu schreiben wäre etwa „pickup 1/4; 1-16 4/4 twice; tempo 1/4=92“.',
    ],
    [
      'The file is empty: it holds nothing but white space.',
      'Die Datei ist leer: Sie enthält nur Leerzeichen und Zeilenenden.',
    ],
    ['The file is empty: it has no bytes at all.', 'Die Datei ist leer: Sie hat kein einziges Byte.'],
    ['The file is empty.', 'Die Datei ist leer.'],
  ],
  'file-missing': [
    [
      'The score of this drill, {file}, is not in its folder any more.',
      'Die Partitur dieser Übung, {file}, liegt nicht mehr in ihrem Ordner.',
    ],
    [
      'The demo piece did not come with the page. Open a score of your own.',
      'Das Beispielstück kam nicht mit der Seite. Eine eigene Partitur lässt sich öffnen.',
    ],
  ],
  'file-too-large': [
    [
      'The plan has {n} characters; at most {most} are read.',
      'Der Plan hat {n} Zeichen; gelesen werden höchstens {most}.',
    ],
    [
      'The scores in this file unpack to more than 1 GiB: that is no shelf.',
      'Die Partituren in dieser Datei sind entpackt größer als 1 GiB: Das ist kein Regal.',
    ],
    [
      '{file} is larger than 256 MiB: that is no score.',
      '{file} ist größer als 256 MiB: Das ist keine Partitur.',
    ],
    [
      'A piece of the file has more than {most} voices, which no piece has.',
      'Ein Stück der Datei hat mehr als {most} Stimmen; so viele hat kein Stück.',
    ],
    [
      'The file has more bars times parts than any score.',
      'Die Datei hat mehr Takte mal Stimmen als jede Partitur.',
    ],
    [
      'The file holds more than 64 million characters, more than any score.',
      'Die Datei hat mehr als 64 Millionen Zeichen, mehr als jede Partitur.',
    ],
    [
      'The file has more than 4 million lines, more than any score.',
      'Die Datei hat mehr als 4 Millionen Zeilen, mehr als jede Partitur.',
    ],
    [
      'The file has more than {most} columns at once, more than any score.',
      'Die Datei hat mehr als {most} Spalten zugleich, mehr als jede Partitur.',
    ],
    [
      'The file begins more than {most} columns, more than any score.',
      'Die Datei beginnt mehr als {most} Spalten, mehr als jede Partitur.',
    ],
    [
      'The XML is longer than 64 million characters; no score is that long.',
      'Das XML hat mehr als 64 Millionen Zeichen; so lang ist keine Partitur.',
    ],
    ['The XML has more than {most} elements.', 'Das XML hat mehr als {most} Elemente.'],
    [
      'With its references followed the file has more than {most} copied elements; no score has.',
      'Folgt man ihren Verweisen, hat die Datei mehr als {most} kopierte Elemente; so viele hat keine Partitur.',
    ],
    [
      'The file asks for more repeats, marks and parts than any score holds. It is damaged.',
      'Die Datei verlangt mehr Wiederholungen, Zeichen und Stimmen, als eine Partitur fasst. Sie ist beschädigt.',
    ],
    [
      'The file has more than {most} events; no piece needs as many, so it is not read.',
      'Die Datei hat mehr als {most} Ereignisse; so viele braucht kein Stück, sie wird nicht gelesen.',
    ],
    [
      'The file has {n} bytes; at most {most} are read.',
      'Die Datei hat {n} Bytes; gelesen werden höchstens {most}.',
    ],
    [
      'The file has more than {most} tracks, so it is not read.',
      'Die Datei hat mehr als {most} Spuren und wird nicht gelesen.',
    ],
    [
      'The file has more than {most} notes, so it is not read.',
      'Die Datei hat mehr als {most} Noten und wird nicht gelesen.',
    ],
    [
      'The notes and rests of the file are more than {most} on paper, so it is not read. Notes that are never let go, or a note far behind the music, can be the cause.',
      'Auf dem Papier wären es mehr als {most} Noten und Pausen; die Datei wird nicht gelesen. Die Ursache können Noten sein, die nie losgelassen werden, oder eine Note weit hinter der Musik.',
    ],
    [
      '"{name}" inside the compressed file unpacks to more than 64 MiB; no score is that large.',
      '„{name}“ in der gepackten Datei ist entpackt größer als 64 MiB; so groß ist keine Partitur.',
    ],
    [
      '"{name}" inside the compressed file is larger than 64 MiB.',
      '„{name}“ in der gepackten Datei ist größer als 64 MiB.',
    ],
  ],
  'file-truncated': [
    [
      'The file ends early: its "{name}" section should have {stated} bytes and has {left}. What is there was used; the end may be missing.',
      'Die Datei endet zu früh: Ihr Abschnitt „{name}“ müsste {stated} Bytes haben und hat {left}. Was da ist, gilt; das Ende kann fehlen.',
    ],
    [
      'The compressed file is cut off or damaged: its table of contents is missing. Copy or export it again.',
      'Die gepackte Datei ist abgeschnitten oder beschädigt: Ihr Inhaltsverzeichnis fehlt. Am besten noch einmal kopieren oder exportieren.',
    ],
    [
      'The file breaks off: its columns are never ended. What is there is read.',
      'Die Datei bricht ab: Ihre Spalten enden nie. Was da ist, gilt.',
    ],
  ],
  'file-unreadable': [
    [
      '{file} cannot be read. A folder, or a file that has gone?',
      '{file} ist nicht zu lesen. Ein Ordner, oder eine Datei, die fort ist?',
    ],
  ],
  'format-newer': [
    [
      'This reading has format version {n}; this Levare reads up to {own}. A newer Levare wrote it: bring this one up to date.',
      'Dieser Hörbericht hat die Formatversion {n}; dieses Levare liest bis {own}. Er stammt von einem neueren Levare.',
    ],
    [
      'This drill has format version {n}; this Levare reads up to {own}. A newer Levare wrote it: bring this one up to date.',
      'Diese Übung hat die Formatversion {n}; dieses Levare liest bis {own}. Sie stammt von einem neueren Levare.',
    ],
    [
      'This shelf has format version {n}; this Levare reads up to {own}. A newer Levare wrote it: bring this one up to date.',
      'Dieses Regal hat die Formatversion {n}; dieses Levare liest bis {own}. Es stammt von einem neueren Levare.',
    ],
    [
      'These count words have format version {n}; this Levare reads up to {own}. A newer Levare wrote them: bring this one up to date.',
      'Diese Zählworte haben die Formatversion {n}; dieses Levare liest bis {own}. Sie stammen von einem neueren Levare.',
    ],
    [
      'What sounded with this take has format version {n}; this Levare reads up to {own}. A newer Levare wrote it: bring this one up to date.',
      'Was bei dieser Aufnahme klang, hat die Formatversion {n}; dieses Levare liest bis {own}. Es stammt von einem neueren Levare.',
    ],
  ],
  'no-bars': [
    [
      'The file has no bars: there is no music in it.',
      'Die Datei hat keine Takte: Es ist keine Musik darin.',
    ],
    ['The plan has no bars.', 'Der Plan hat keine Takte.'],
    [
      'The plan names no bars. Write, for example, "1-16 4/4".',
      'Der Plan nennt keine Takte. Zu schreiben wäre etwa „1-16 4/4“.',
    ],
    [
      'The file is Humdrum but has no **kern column: there are no notes in it.',
      'Die Datei ist Humdrum, hat aber keine Spalte **kern: Es sind keine Noten darin.',
    ],
    [
      'The file is [MEI|MusicXML] but has no bars: there is no music in it.',
      'Die Datei hat keine Takte: Es ist keine Musik darin.',
    ],
  ],
  'no-notes': [['The MIDI file holds no notes.', 'Die MIDI-Datei enthält keine Noten.']],
  'no-piece': [['No score is open.', 'Es ist keine Partitur geöffnet.']],
  'no-sound': [
    [
      'This browser gives no exact sound ({_why}). It needs to be a current one, and the page has to come from this machine or over https.',
      'Dieser Browser gibt keinen genauen Klang. Er muss ein aktueller sein, und die Seite muss von diesem Gerät oder über https kommen.',
    ],
    [
      'This browser gives no exact sound. It needs to be a current one, and the page has to come from this machine or over https.',
      'Dieser Browser gibt keinen genauen Klang. Er muss ein aktueller sein, und die Seite muss von diesem Gerät oder über https kommen.',
    ],
  ],
  'not-a-score': [
    [
      'The file is XML, but not MEI: its outermost element is "{name}".',
      'Die Datei ist XML, aber kein MEI: Ihr äußerstes Element ist „{name}“.',
    ],
    [
      'The file is a MusicXML opus: a list of scores, not a score. Open one of the scores.',
      'Die Datei ist ein MusicXML-Opus: eine Liste von Partituren, keine Partitur. Zu öffnen wäre eine davon.',
    ],
    [
      'The file is XML, but not a score: its outermost element is "{name}".',
      'Die Datei ist XML, aber keine Partitur: Ihr äußerstes Element ist „{name}“.',
    ],
    [
      'This is not a score that can be read: it is {kind}. Scores are read from MusicXML (.musicxml, .xml, .mxl), MEI, Humdrum kern, ABC and MIDI files, and from bar plans.',
      'Das ist keine lesbare Partitur: Die Datei ist {kind:file}. Gelesen werden Partituren in MusicXML (.musicxml, .xml, .mxl), MEI, Humdrum kern, ABC und MIDI sowie Taktpläne.',
    ],
    [
      'The file is MEI in neumes or mensural notation. Only common notation, with bars and note values, is read.',
      'Die Datei ist MEI in Neumen oder Mensuralnotation. Gelesen wird nur die übliche Notation mit Takten und Notenwerten.',
    ],
    [
      'The file is a compressed archive without a MusicXML score in it.',
      'Die Datei ist ein gepacktes Archiv ohne MusicXML-Partitur.',
    ],
  ],
  'not-text': [
    [
      '{n} [character that is no text (such as a NUL byte) stands|characters that are no text (such as NUL bytes) stand] in the file; [it is|they are] passed over.',
      '{n} Zeichen in der Datei {n|ist|sind} kein Text (etwa NUL-Bytes) und {n|wird|werden} übergangen.',
    ],
    [
      'This is not plain text: it holds a control character.',
      'Das ist kein gewöhnlicher Text: Er enthält ein Steuerzeichen.',
    ],
    [
      'The file holds {n} [byte|bytes] of value zero, which no text has; they are passed over.',
      'Die Datei enthält {n} {n|Byte|Bytes} mit dem Wert null, die kein Text hat; sie werden übergangen.',
    ],
  ],
  'pdf-failed': [['The PDF could not be made: {_why}.', 'Das PDF ließ sich nicht machen.']],
  'pdf-incomplete': [
    [
      'Something on the page could not be put into the PDF: {_what}.',
      'Etwas auf der Seite ließ sich nicht in das PDF setzen.',
    ],
  ],
  'mark-not-drawn': [
    [
      '{n} mark(s) of the reading found no room on its pages; the figures have them.',
      '{n} Zeichen des Hörberichts hatten auf seinen Seiten keinen Platz; die Zahlen haben sie.',
    ],
  ],
  'png-failed': [
    ['The picture could not be drawn as PNG: {why}.', 'Das Bild ließ sich nicht als PNG zeichnen: {why}.'],
  ],
  'score-changed': [
    [
      'The score is not the one that this drill was made on: there are no pages of the reading.',
      'Die Partitur ist nicht die, auf der diese Übung gemacht wurde: Seiten des Hörberichts gibt es nicht.',
    ],
    [
      "The score in this drill's folder ({file}) is not the one that the drill was made on. Make the drill anew from the score.",
      'Die Partitur im Ordner dieser Übung ({file}) ist nicht die, nach der sie gemacht wurde. Die Übung neu aus der Partitur machen.',
    ],
  ],
  stopped: [['It was stopped before it was done.', 'Es wurde abgebrochen, ehe es fertig war.']],
  'xml-broken': [
    [
      'The XML is not well formed at line {line}, column {column}: {_what}. The file may be damaged or cut off.',
      'Das XML ist in Zeile {line}, Spalte {column} fehlerhaft. Die Datei ist vielleicht beschädigt oder abgeschnitten.',
    ],
  ],
  'xml-entities': [
    [
      'The file declares XML entities of its own. They can fetch or blow up content and are not read; no score needs them.',
      'Die Datei erklärt eigene XML-Entitäten. Sie können Inhalt nachladen oder aufblähen und werden nicht gelesen; keine Partitur braucht sie.',
    ],
  ],
  'xml-too-deep': [
    ['The XML is nested more than {n} levels deep.', 'Das XML ist tiefer als {n} Ebenen verschachtelt.'],
    [
      'With its references followed the file is nested more than {n} levels deep.',
      'Folgt man ihren Verweisen, ist die Datei tiefer als {n} Ebenen verschachtelt.',
    ],
  ],
  'zip-damaged': [
    [
      'The compressed file is damaged: "{name}" inside it can not be unpacked.',
      'Die gepackte Datei ist beschädigt: „{name}“ darin lässt sich nicht entpacken.',
    ],
  ],
  'zip-too-many': [
    [
      'The compressed file holds {n} files; a score holds a few.',
      'Die gepackte Datei enthält {n} Dateien; eine Partitur enthält wenige.',
    ],
  ],
  'zip-unsupported': [
    [
      'The compressed file uses ZIP64, which no score needs.',
      'Die gepackte Datei nutzt ZIP64, das keine Partitur braucht.',
    ],
    [
      '"{name}" inside the compressed file is locked by a password.',
      '„{name}“ in der gepackten Datei ist durch ein Passwort geschützt.',
    ],
    [
      '"{name}" is compressed by a method ({n}) that is not read.',
      '„{name}“ ist auf eine Art ({n}) gepackt, die nicht gelesen wird.',
    ],
  ],
};
