/** What every reader of scores says, and the readers of MusicXML and MEI. */
import type { Pair } from '../patterns.ts';

export const reading: Readonly<Record<string, readonly Pair[]>> = {
  'accidentals-implied': [
    [
      'The file does not say how notes without an accidental of their own are altered; key signature and the accidentals before in the bar are applied ({many}).',
      'Die Datei sagt nicht, wie Noten ohne eigenes Vorzeichen klingen; es gelten die Vorzeichnung und die früheren Vorzeichen im Takt ({many:times}).',
    ],
  ],
  'backup-too-far': [
    [
      'A voice begins before its bar does; it is moved to the bar line.',
      'Eine Stimme beginnt vor ihrem Takt; sie wird an den Taktstrich gerückt.',
    ],
  ],
  'bar-empty': [
    [
      'This bar has no notes and no rests; it lasts as long as the bar before.',
      'Dieser Takt hat weder Noten noch Pausen; er dauert so lange wie der Takt davor.',
    ],
    [
      'This bar has no notes and no rests; it lasts a bar of {metre}.',
      'Dieser Takt hat weder Noten noch Pausen; er dauert einen Takt in {metre:metre}.',
    ],
  ],
  'bar-numbers-differ': [
    [
      'This part calls a bar "{own}" that the first part calls "{other}"; bars are taken in order.',
      'Diese Stimme nennt einen Takt „{own}“, der in der ersten Stimme „{other}“ heißt; die Takte gelten der Reihe nach.',
    ],
  ],
  'bar-overfull': [
    [
      'This bar holds {length}, more than its metre {metre}; it is kept as long as its content.',
      'Dieser Takt enthält {length:length}, mehr als seine Taktart {metre:metre}; er bleibt so lang wie sein Inhalt.',
    ],
  ],
  'bar-short': [
    [
      'This bar holds {length}, less than its metre {metre}; it is kept as it is.',
      'Dieser Takt enthält {length:length}, weniger als seine Taktart {metre:metre}; er bleibt, wie er ist.',
    ],
  ],
  'bars-counted': [
    [
      'The file does not number its bars; they are counted from 0, the upbeat.',
      'Die Datei nummeriert ihre Takte nicht; sie werden ab 0, dem Auftakt, gezählt.',
    ],
    [
      'The file does not number its bars; they are counted from 1.',
      'Die Datei nummeriert ihre Takte nicht; sie werden ab 1 gezählt.',
    ],
  ],
  'chord-alone': [
    [
      'A chord note has no note before it in its bar; it is read by itself.',
      'Einer Akkordnote geht in ihrem Takt keine Note voraus; sie steht für sich.',
    ],
  ],
  'chord-lengths-differ': [
    [
      'The notes of a chord have different lengths; all last as long as its first.',
      'Die Noten eines Akkords sind verschieden lang; alle dauern so lange wie die erste.',
    ],
    [
      'Notes of a chord have different lengths ({many}); each keeps its own, and the next note follows after the first of them.',
      'Noten eines Akkords sind verschieden lang ({many:times}); jede behält ihre Länge, und die nächste Note folgt nach der ersten von ihnen.',
    ],
    [
      'Notes of a chord have different lengths ({many}); each keeps its own, and the next note follows after that of the chord.',
      'Noten eines Akkords sind verschieden lang ({many:times}); jede behält ihre Länge, und die nächste Note folgt nach der Länge des Akkords.',
    ],
  ],
  'clef-unknown': [
    [
      'The clef "{clef}" is not known; the staff keeps the one it has.',
      'Der Schlüssel „{clef}“ ist nicht bekannt; das System behält den bisherigen.',
    ],
    [
      'The clef "{clef}" is not known; the staff is kept without a clef.',
      'Der Schlüssel „{clef}“ ist nicht bekannt; das System bleibt ohne Schlüssel.',
    ],
  ],
  'divisions-absurd': [
    [
      'The file divides its quarters in so many different ways that no common unit of time can be found. It is damaged.',
      'Die Datei teilt ihre Viertel auf so viele Arten, dass sich keine gemeinsame Zeiteinheit findet. Sie ist beschädigt.',
    ],
  ],
  'divisions-missing': [
    [
      'The file does not say into how many parts it divides a quarter; it is read as 1, so a duration of 4 is a whole note.',
      'Die Datei sagt nicht, in wie viele Teile sie ein Viertel teilt; angenommen wird 1, also ist eine Dauer von 4 eine ganze Note.',
    ],
    [
      'The file does not say into how many parts it divides a quarter; by the printed values of the notes it is {n}.',
      'Die Datei sagt nicht, in wie viele Teile sie ein Viertel teilt; nach den gedruckten Notenwerten sind es {n}.',
    ],
  ],
  'divisions-unreadable': [
    [
      'The file counts durations in "{text}" parts of a quarter, which makes no sense; the number before it (at first 1) goes on.',
      'Die Datei zählt Dauern in „{text}“ Teilen eines Viertels, was keinen Sinn ergibt; die Zahl davor (anfangs 1) gilt weiter.',
    ],
    [
      'The file counts durations in "{text}" parts of a quarter, which makes no sense; by the printed values of the notes it is {n}.',
      'Die Datei zählt Dauern in „{text}“ Teilen eines Viertels, was keinen Sinn ergibt; nach den gedruckten Notenwerten sind es {n}.',
    ],
  ],
  'duration-missing duration-out-of-range duration-unreadable': [
    [
      'A [rest|chord|note] has no duration and no printed value; it is left out.',
      'Eine Note, ein Akkord oder eine Pause hat weder Dauer noch gedruckten Wert und wird ausgelassen.',
    ],
    [
      'An invisible rest has no length; it is taken to last until what follows it ends with the bar.',
      'Eine unsichtbare Pause hat keine Länge; sie dauert so lange, dass das Folgende mit dem Takt endet.',
    ],
    [
      'A note has no duration; it lasts as long as its printed value.',
      'Eine Note hat keine Dauer; sie dauert so lange wie ihr gedruckter Wert.',
    ],
    [
      'A note has the duration "{text}"; it lasts as long as its printed value.',
      'Eine Note hat die Dauer „{text}“; sie dauert so lange wie ihr gedruckter Wert.',
    ],
    [
      'A note has the duration "{text}" and no printed value; it is left out.',
      'Eine Note hat die Dauer „{text}“ und keinen gedruckten Wert; sie wird ausgelassen.',
    ],
    [
      'A note is longer than any music; it lasts one unit.',
      'Eine Note ist länger als jede Musik; sie dauert eine Einheit.',
    ],
    [
      'A note has the length "{text}", which can not be; it lasts one unit.',
      'Eine Note hat die unmögliche Länge „{text}“; sie dauert eine Einheit.',
    ],
    [
      'A note has "{dots}" dots, which can not be; it is read without dots.',
      'Eine Note hat „{dots}“ Punkte, was nicht sein kann; sie gilt ohne Punkte.',
    ],
    [
      'A note lasts longer than any music; it is left out.',
      'Eine Note dauert länger als jede Musik; sie wird ausgelassen.',
    ],
    [
      'A rest for several bars lasts "{n}" bars, which can not be; it is read as one.',
      'Eine Pause für mehrere Takte dauert „{n}“ Takte, was nicht sein kann; sie gilt für einen.',
    ],
    [
      'A "{name}" has the duration "{text}", which can not be; it is passed over.',
      'Ein „{name}“ hat die unmögliche Dauer „{text}“; es wird übergangen.',
    ],
    [
      'A note has the duration "{text}", which is no note value; it is left out unless another tells its length.',
      'Eine Note hat die Dauer „{text}“, die kein Notenwert ist; sie wird ausgelassen, wenn nichts anderes ihre Länge sagt.',
    ],
    [
      'The note "{text}" in line {line} has no length; it lasts as long as its chord.',
      'Die Note „{text}“ in Zeile {line} hat keine Länge; sie dauert so lange wie ihr Akkord.',
    ],
    [
      'The note "{text}" in line {line} has no length; it is left out.',
      'Die Note „{text}“ in Zeile {line} hat keine Länge; sie wird ausgelassen.',
    ],
    [
      'The note "{text}" in line {line} has a length that can not be; it lasts as long as its chord.',
      'Die Note „{text}“ in Zeile {line} hat eine unmögliche Länge; sie dauert so lange wie ihr Akkord.',
    ],
    [
      'The note "{text}" in line {line} has a length that can not be; it is left out.',
      'Die Note „{text}“ in Zeile {line} hat eine unmögliche Länge; sie wird ausgelassen.',
    ],
  ],
  'metre-assumed': [
    [
      'The MIDI file begins without a time signature; 4/4 is assumed.',
      'Die MIDI-Datei beginnt ohne Taktangabe; 4/4 wird angenommen.',
    ],
    [
      'The file gives no time signature at its beginning; by the length of its bars it is read as {metre}.',
      'Die Datei beginnt ohne Taktangabe; nach der Länge ihrer Takte gilt {metre:metre}.',
    ],
  ],
  'metre-differs': [
    [
      'This part is in {own} while another is in {other}; bars are counted in {other}.',
      'Diese Stimme steht in {own:metre}, eine andere in {other:metre}; gezählt wird in {other:metre}.',
    ],
    [
      'A voice is in {own} while another of its part is in {other}; bars are counted in {other}.',
      'Eine Stimme steht in {own:metre}, eine andere derselben Partie in {other:metre}; gezählt wird in {other:metre}.',
    ],
    [
      'The voices of this staff have different time signatures at once; the first is counted for all.',
      'Die Stimmen dieses Systems haben gleichzeitig verschiedene Taktarten; für alle wird die erste gezählt.',
    ],
    [
      'The staves of this part have different time signatures at once; the first is counted for all.',
      'Die Systeme dieser Stimme haben gleichzeitig verschiedene Taktarten; für alle wird die erste gezählt.',
    ],
  ],
  'metre-interchangeable': [
    [
      'Two time signatures are given to choose from; the first is counted.',
      'Zwei Taktarten stehen zur Wahl; gezählt wird die erste.',
    ],
  ],
  'metre-mid-bar': [
    [
      'A time signature stands inside a bar ({n} times, first in bar {bar}): the bar ends there and is shorter than its metre.',
      'Eine Taktangabe steht mitten im Takt ({n}-mal, zuerst in Takt {bar}): Der Takt endet dort und ist kürzer als seine Taktart.',
    ],
    [
      'The metre changes to {metre} inside a bar; it is counted from the next bar on.',
      'Die Taktart wechselt mitten im Takt zu {metre:metre}; gezählt wird sie ab dem nächsten Takt.',
    ],
  ],
  'metre-unreadable': [
    [
      'A time signature can not be read ("{text}"); the metre before it goes on.',
      'Eine Taktangabe ist nicht zu lesen („{text}“); die Taktart davor gilt weiter.',
    ],
  ],
  'note-type-unknown': [
    [
      'The note value "{text}" is not one of the standard; the note\'s length is kept ({many}).',
      'Den Notenwert „{text}“ kennt der Standard nicht; die Länge der Note bleibt ({many:times}).',
    ],
  ],
  'octave-line-applied': [
    [
      'Notes stand under an octave line, and the file does not say in which octave they sound ({many}); they are read as the line says.',
      'Noten stehen unter einer Oktavlinie, und die Datei sagt nicht, in welcher Oktave sie klingen ({many:times}); es gilt die Linie.',
    ],
  ],
  'part-id-changed': [
    [
      'The part id "{before}" is taken or not fit for XML: "{id}" is written.',
      'Die Kennung „{before}“ einer Stimme ist vergeben oder für XML nicht geeignet: Geschrieben wird „{id}“.',
    ],
    [
      'The voice id "{before}" has signs that an id can not have; it is "{id}" here.',
      'Die Kennung „{before}“ einer Stimme hat unzulässige Zeichen; hier heißt sie „{id}“.',
    ],
    [
      'The part id "{before}" is used twice or has signs that an id can not have; it is "{id}" here.',
      'Die Kennung „{before}“ einer Stimme kommt zweimal vor oder hat unzulässige Zeichen; hier heißt sie „{id}“.',
    ],
  ],
  'part-lacks-bars': [
    [
      'This part has no content in {n} of the {all} bars, from bar {first} on; it is silent there.',
      'Diese Stimme hat in {n} von {all} Takten keinen Inhalt, zuerst in Takt {first}; dort schweigt sie.',
    ],
  ],
  'part-list-missing': [
    [
      'The file has no list of parts; parts are taken as they come.',
      'Die Datei hat keine Liste der Stimmen; sie gelten, wie sie kommen.',
    ],
  ],
  'part-not-listed': [
    [
      'The file holds music for a voice "{id}" that its %%score does not name. It is read as a part of its own.',
      'Die Datei enthält Noten für eine Stimme „{id}“, die ihr %%score nicht nennt. Sie gilt als eigene Stimme.',
    ],
    [
      'The file holds music for a part "{id}" that its list of parts does not name. It is kept without a name.',
      'Die Datei enthält Noten für eine Stimme „{id}“, die in der Liste der Stimmen fehlt. Sie bleibt ohne Namen.',
    ],
  ],
  'part-without-music': [
    [
      '[The file|%%score] names a voice "{id}", but [holds|the file holds] no music for it. It is left out.',
      'Die Datei nennt eine Stimme „{id}“, enthält aber keine Noten für sie. Sie wird ausgelassen.',
    ],
    [
      'The list of parts names "{id}", but the file holds no music for it. It is left out.',
      'Die Liste der Stimmen nennt „{id}“, aber die Datei enthält keine Noten dafür. Die Stimme wird ausgelassen.',
    ],
  ],
  'key-unreadable': [
    [
      'A key signature can not be read; it is left out. The notes carry their own alterations.',
      'Eine Vorzeichnung ist nicht zu lesen und wird ausgelassen. Die Noten haben ihre eigenen Vorzeichen.',
    ],
  ],
  'pitch-performed-differs': [
    [
      'A note is written at one pitch and performed at another ({many}); the performed one is read.',
      'Eine Note ist anders geschrieben, als sie klingt ({many:times}); es gilt der Klang.',
    ],
  ],
  'pitch-unreadable': [
    [
      'A note\'s pitch can not be read ("{text}"); it is kept as a note without pitch.',
      'Die Tonhöhe einer Note ist nicht zu lesen („{text}“); die Note bleibt ohne Tonhöhe.',
    ],
  ],
  'reading-chosen': [
    [
      'The edition gives different readings of a place ({many}); the one that the editor prefers is read, else the first.',
      'Die Ausgabe gibt für eine Stelle verschiedene Lesarten ({many:times}); es gilt die vom Herausgeber bevorzugte, sonst die erste.',
    ],
    [
      'The edition gives a place as it stands and as it should be ({many}); what the editor says is right is read.',
      'Die Ausgabe gibt eine Stelle, wie sie steht und wie sie heißen sollte ({many:times}); es gilt, was der Herausgeber für richtig hält.',
    ],
  ],
  'reference-broken': [
    [
      'The file refers to "{what}" for the content of this "{name}", but no such element is there; it is read as it stands.',
      'Die Datei verweist für den Inhalt von „{name}“ auf „{what}“, aber das gibt es nicht; es gilt, was dasteht.',
    ],
    [
      'The file refers to "{what}" in a circle; the reference is not followed.',
      'Die Datei verweist im Kreis auf „{what}“; dem Verweis wird nicht gefolgt.',
    ],
    [
      'A mark ("{name}") refers to "{uri}", but no such note is there; it is placed by its time, if it has one.',
      'Ein Zeichen („{name}“) verweist auf „{uri}“, aber diese Note gibt es nicht; es steht nach seiner Zeitangabe, wenn es eine hat.',
    ],
  ],
  'rest-too-long': [
    [
      'A rest for the whole bar is longer than its bar ({many}); it lasts as long as the bar.',
      'Eine Ganztaktpause ist länger als ihr Takt ({many:times}); sie dauert so lange wie der Takt.',
    ],
  ],
  'slur-unpaired': [
    [
      'A slur ends before any note; it is left out.',
      'Ein Bindebogen endet vor der ersten Note; er wird ausgelassen.',
    ],
    [
      'A slur ends that did not begin on an earlier note; it is left out.',
      'Ein Bindebogen endet, der auf keiner früheren Note begann; er wird ausgelassen.',
    ],
    ['A slur begins and never ends; left out.', 'Ein Bindebogen beginnt und endet nie; ausgelassen.'],
    ['{n} slurs begin and never end; left out.', '{n} Bindebögen beginnen und enden nie; ausgelassen.'],
    [
      'A slur begins and never ends; it is not told where to.',
      'Ein Bindebogen beginnt und endet nie; sein Ziel ist nicht gesagt.',
    ],
    [
      '{n} slurs begin and never end; it is not told where to.',
      '{n} Bindebögen beginnen und enden nie; ihr Ziel ist nicht gesagt.',
    ],
    [
      'A slur does not say from which note to which it goes; it is left out.',
      'Ein Bindebogen sagt nicht, von welcher Note zu welcher er reicht; er wird ausgelassen.',
    ],
    [
      'A slur ends that did not begin on an earlier note of its column ({many}); it is left out.',
      'Ein Bindebogen endet, der auf keiner früheren Note seiner Spalte begann ({many:times}); er wird ausgelassen.',
    ],
  ],
};
