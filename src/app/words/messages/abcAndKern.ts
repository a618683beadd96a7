/** What the readers of ABC and of Humdrum kern say. */
import type { Pair } from '../patterns.ts';

export const abcAndKern: Readonly<Record<string, readonly Pair[]>> = {
  'accidental-octaves': [
    [
      'An accidental is followed in its bar by the same note ({step}) in another octave ({many}); as ABC 2.1 says, it holds for all octaves. Write "%%propagate-accidentals octave" if it holds for its own only.',
      'Nach einem Vorzeichen folgt im Takt derselbe Ton ({step:pitch}) in einer anderen Oktave ({many:times}); nach ABC 2.1 gilt es für alle Oktaven. Mit „%%propagate-accidentals octave“ gilt es nur für die eigene.',
    ],
  ],
  'bar-lengths-differ': [
    [
      'In this bar voice "{one}" holds {longest}, voice "{other}" {shortest}; the bar is as long as the longest.',
      'In diesem Takt enthält die Stimme „{one}“ {longest:length}, die Stimme „{other}“ {shortest:length}; der Takt ist so lang wie die längste.',
    ],
  ],
  'bar-line-missing': [
    [
      'A line of music ends with a full bar and without a bar line ({many}); it is read as if there were one.',
      'Eine Notenzeile endet mit einem vollen Takt und ohne Taktstrich ({many:times}); sie gilt, als stünde dort einer.',
    ],
  ],
  'bar-rest-mid-bar': [
    [
      'A rest for whole bars stands behind notes of its bar; it begins with the next.',
      'Eine Pause für ganze Takte steht hinter Noten ihres Takts; sie beginnt mit dem nächsten.',
    ],
  ],
  'bracket-unclosed': [
    [
      'A text in quotation marks begins here and does not end in its line; the sign is passed over.',
      'Ein Text in Anführungszeichen beginnt hier und endet nicht in seiner Zeile; das Zeichen wird übergangen.',
    ],
    [
      'A chord begins here and does not end in its line; the sign is passed over.',
      'Ein Akkord beginnt hier und endet nicht in seiner Zeile; das Zeichen wird übergangen.',
    ],
    [
      'A group of grace notes begins here and does not end in its line; the sign is passed over.',
      'Eine Gruppe von Vorschlagsnoten beginnt hier und endet nicht in ihrer Zeile; das Zeichen wird übergangen.',
    ],
    [
      'A field in the music begins here and does not end in its line; the sign is passed over.',
      'Ein Feld in den Noten beginnt hier und endet nicht in seiner Zeile; das Zeichen wird übergangen.',
    ],
    [
      'The brackets of "%%score {text}" do not match, or it names a voice twice; voices are grouped as far as it is understood.',
      'Die Klammern von „%%score {text}“ passen nicht zueinander, oder eine Stimme steht zweimal darin; die Stimmen werden gruppiert, soweit es verständlich ist.',
    ],
  ],
  'kern-bar-line-partial': [
    [
      'The bar line in line {line} is missing in some columns; it holds for all.',
      'Der Taktstrich in Zeile {line} fehlt in einigen Spalten; er gilt für alle.',
    ],
  ],
  'kern-columns-lost': [
    [
      'Line {line} changes the columns of the file, but has {n} of them where there are {count}; what follows can not be told apart. A tab may be missing.',
      'Zeile {line} ändert die Spalten der Datei, hat aber {n} davon, wo es {count} gibt; was folgt, lässt sich nicht zuordnen. Vielleicht fehlt ein Tabulator.',
    ],
  ],
  'kern-columns-wrong': [
    [
      'Line {line} has {n} [column|columns] where there are {count}; those that are missing hold nothing new.',
      'Zeile {line} hat {n} {n|Spalte|Spalten}, wo es {count} gibt; die fehlenden enthalten nichts Neues.',
    ],
    [
      'Line {line} has {n} [column|columns] where there are {count}; those that are too many are left out.',
      'Zeile {line} hat {n} {n|Spalte|Spalten}, wo es {count} gibt; die überzähligen werden ausgelassen.',
    ],
    [
      'Line {line} stands outside all columns, before the line that names them or after their end; it is left out.',
      'Zeile {line} steht außerhalb aller Spalten, vor ihrer Benennung oder nach ihrem Ende; sie wird ausgelassen.',
    ],
  ],
  'kern-misaligned': [
    [
      'In line {line} the columns do not agree on the time: by its own lengths this part stands {own} of a whole note into the bar, others {others}. It is read by its own lengths; at the next bar line all begin together again.',
      'In Zeile {line} sind die Spalten über die Zeit uneins: Nach ihren eigenen Längen steht diese Stimme {own} einer ganzen Note im Takt, andere {others}. Es gelten ihre eigenen Längen; am nächsten Taktstrich beginnen alle wieder gemeinsam.',
    ],
    [
      'The columns do not end this bar together: by its own lengths this part fills {own} of a whole note, the longest {longest}.',
      'Die Spalten beenden diesen Takt nicht gemeinsam: Nach ihren eigenen Längen füllt diese Stimme {own} einer ganzen Note, die längste {longest}.',
    ],
  ],
  'kern-path-broken': [
    [
      'A column is to change places with its neighbour, which is not; the sign is passed over.',
      'Eine Spalte soll mit ihrer Nachbarin den Platz tauschen, diese aber nicht mit ihr; das Zeichen wird übergangen.',
    ],
    [
      'A column is to join its neighbour, which is not; the sign is passed over.',
      'Eine Spalte soll sich mit ihrer Nachbarin vereinen, diese aber nicht mit ihr; das Zeichen wird übergangen.',
    ],
  ],
  'key-missing': [
    [
      'The header of a piece does not end with a K: field; the piece is read without key signature.',
      'Der Kopf eines Stücks endet nicht mit einem Feld K:; das Stück gilt ohne Vorzeichnung.',
    ],
  ],
  'key-unreadable': [
    [
      'The key "{text}" is not understood in full; it is read as no key signature.',
      'Die Tonart „{text}“ ist nicht ganz verständlich; sie gilt als keine Vorzeichnung.',
    ],
    [
      'The key "{text}" is not understood in full; it is read as far as it is.',
      'Die Tonart „{text}“ ist nicht ganz verständlich; sie gilt, soweit sie es ist.',
    ],
  ],
  'lyrics-extra': [
    [
      'A line of words has {n} more [syllable|syllables] than there are notes; what is beyond is left out.',
      'Eine Textzeile hat {n} {n|Silbe|Silben} mehr, als Noten da sind; der Rest wird ausgelassen.',
    ],
    [
      'A line of symbols has {n} more than there are notes; what is beyond is left out.',
      'Eine Zeile mit Zeichen hat {n} mehr, als Noten da sind; der Rest wird ausgelassen.',
    ],
  ],
  'metre-unreadable': [
    [
      'The time signature "{text}" can not be; bars are read without metre.',
      'Die Taktangabe „{text}“ kann nicht sein; die Takte gelten ohne Taktart.',
    ],
    [
      'The time signature "{text}" can not be; {metre} goes on.',
      'Die Taktangabe „{text}“ kann nicht sein; {metre:metre} gilt weiter.',
    ],
  ],
  'music-unreadable': [
    [
      'The symbol "{text}" can not be read; it is left out.',
      'Das Symbol „{text}“ ist nicht zu lesen; es wird ausgelassen.',
    ],
    [
      'The macro "{text}" can not be read; it is left out.',
      'Das Makro „{text}“ ist nicht zu lesen; es wird ausgelassen.',
    ],
    [
      'The macro "{text}" is one too many; it is left out.',
      'Das Makro „{text}“ ist eines zu viel; es wird ausgelassen.',
    ],
    [
      'A line "{letter}:" stands where no notes are; it is left out.',
      'Eine Zeile „{letter}:“ steht, wo keine Noten sind; sie wird ausgelassen.',
    ],
    [
      'An accidental stands before no note; it is passed over.',
      'Ein Vorzeichen steht vor keiner Note; es wird übergangen.',
    ],
    ['A chord holds no note; it is passed over.', 'Ein Akkord enthält keine Note; er wird übergangen.'],
    ['"+" stands alone; it is passed over.', '„+“ steht allein; es wird übergangen.'],
    [
      'A tie stands behind no note; it is passed over.',
      'Ein Haltebogen steht hinter keiner Note; er wird übergangen.',
    ],
    [
      'A backslash stands inside a line of music; it is passed over.',
      'Ein umgekehrter Schrägstrich steht mitten in einer Notenzeile; er wird übergangen.',
    ],
    [
      'A sign for broken rhythm stands behind no note, or too many of them; it is passed over.',
      'Ein Zeichen für punktierten Rhythmus steht hinter keiner Note oder zu oft; es wird übergangen.',
    ],
    [
      'An overlay goes back beyond the beginning; it is passed over.',
      'Eine überlagerte Stimme reicht vor den Anfang zurück; sie wird übergangen.',
    ],
    [
      'The dots inside the bar line "{text}" mean nothing; they are passed over.',
      'Die Punkte im Taktstrich „{text}“ bedeuten nichts; sie werden übergangen.',
    ],
    [
      '"{text}" in a line of symbols is none; the rest of the line is left out.',
      '„{text}“ in einer Zeile mit Zeichen ist keines; der Rest der Zeile wird ausgelassen.',
    ],
    [
      'The music holds signs that mean nothing in ABC ("{sign}" and the like, {many}); they are passed over.',
      'Die Noten enthalten Zeichen, die in ABC nichts bedeuten („{sign}“ und dergleichen, {many:times}); sie werden übergangen.',
    ],
    [
      '"{sign}" is nothing that music is written with ({many}); it is passed over.',
      'Mit „{sign}“ werden keine Noten geschrieben ({many:times}); es wird übergangen.',
    ],
    [
      'A chord has more than {most} notes; what is beyond is left out ({many}).',
      'Ein Akkord hat mehr als {most} Noten; die übrigen werden ausgelassen ({many:times}).',
    ],
  ],
  'order-not-followed': [
    [
      'The piece says "P:{order}" for the order in which its sections are played, which repeats and a da capo can not say; it is read as it stands.',
      'Das Stück nennt mit „P:{order}“ eine Folge seiner Teile, die sich mit Wiederholungen und Da capo nicht sagen lässt; es gilt, wie es dasteht.',
    ],
    [
      'The piece "{title}" says "P:{order}" for the order in which its sections are played, which repeats and a da capo can not say; it is read as it stands.',
      'Das Stück „{title}“ nennt mit „P:{order}“ eine Folge seiner Teile, die sich mit Wiederholungen und Da capo nicht sagen lässt; es gilt, wie es dasteht.',
    ],
  ],
  'order-repeats-once': [
    [
      'The piece says "P:{order}" for the order in which its sections are played; those that are played again at the end are read as after a da capo, without their repeats.',
      'Das Stück nennt mit „P:{order}“ die Folge seiner Teile; die am Ende noch einmal gespielten gelten wie nach einem Da capo, ohne Wiederholungen.',
    ],
  ],
  'pipe-scale-assumed': [
    [
      'The key is that of the highland pipes: every C and F is read as sharp.',
      'Die Tonart ist die der schottischen Sackpfeife: Jedes C und F gilt als Cis und Fis.',
    ],
  ],
  'pitch-unreadable': [
    [
      'A note lies beyond all instruments (octave {octave}, altered by {alter}); it is left out.',
      'Eine Note liegt jenseits aller Instrumente (Oktave {octave}, Versetzung {alter}); sie wird ausgelassen.',
    ],
    [
      '"{text}" in line {line} is no note and no rest that can be read; it is left out.',
      '„{text}“ in Zeile {line} ist als Note oder Pause nicht zu lesen; es wird ausgelassen.',
    ],
    [
      '"{text}" in line {line} is no note and no rest that can be read; its time is kept as a rest.',
      '„{text}“ in Zeile {line} ist als Note oder Pause nicht zu lesen; seine Zeit bleibt als Pause.',
    ],
  ],
  'program-from-zero': [
    [
      '"%%MIDI program" is read as counting sounds from 0 ({many}), as such files do: {program} is General MIDI sound {sound}.',
      '„%%MIDI program“ zählt Klänge ab 0 ({many:times}), wie in solchen Dateien üblich: {program} ist der General-MIDI-Klang {sound}.',
    ],
  ],
  'score-transposed': [
    [
      'The file says that its notes were transposed (*{text}); they sound as they stand in the file.',
      'Die Datei sagt, dass ihre Noten transponiert wurden (*{text}); sie klingen, wie sie in der Datei stehen.',
    ],
  ],
  'syntax-outdated': [
    [
      'The tempo "{text}" counts unit lengths a minute, an outdated way of writing.',
      'Das Tempo „{text}“ zählt Grundwerte in der Minute, eine veraltete Schreibweise.',
    ],
    [
      'A field "E:" sets spaces between notes, as files once did; it says nothing about the music.',
      'Ein Feld „E:“ setzt Abstände zwischen Noten, wie früher üblich; über die Musik sagt es nichts.',
    ],
    [
      '"!" breaks the line here, as in files of old ({many}); it says nothing about the music.',
      '„!“ bricht hier die Zeile um, wie früher üblich ({many:times}); über die Musik sagt es nichts.',
    ],
    [
      '"+{name}+" is an outdated way of writing ({many}); it is read as a chord or a decoration.',
      '„+{name}+“ ist eine veraltete Schreibweise ({many:times}); es gilt als Akkord oder Verzierung.',
    ],
  ],
  'too-many-bars': [
    [
      'A rest is to last {n} bars, which no piece has; it is read as one bar.',
      'Eine Pause soll {n} Takte dauern, die kein Stück hat; sie gilt für einen Takt.',
    ],
    [
      'With its rests and repeats for several bars the file has more than {most} bars; no piece has.',
      'Mit ihren mehrtaktigen Pausen und Wiederholungen hat die Datei mehr als {most} Takte; so viele hat kein Stück.',
    ],
    [
      'The MIDI file is longer than {most} bars. A note or a time signature stands far behind the music.',
      'Die MIDI-Datei ist länger als {most} Takte. Eine Note oder Taktangabe steht weit hinter der Musik.',
    ],
  ],
  'unit-length-unreadable': [
    [
      'The unit length "{text}" can not be; the one before it goes on.',
      'Der Grundwert „{text}“ kann nicht sein; der vorige gilt weiter.',
    ],
  ],
  'voice-unnamed': [
    [
      'A V: field names no voice; the voice before it goes on.',
      'Ein Feld V: nennt keine Stimme; die vorige geht weiter.',
    ],
  ],
};
