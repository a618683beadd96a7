/** What becomes of a score in the MusicXML that is written. */
import type { Pair } from '../patterns.ts';

const held = (what: string, german: string): Pair => [
  `${what} held {n} control character(s) that no XML file may hold: left out.`,
  `${german}: {n} Steuerzeichen, die in XML nicht stehen dürfen, wurden ausgelassen.`,
];

export const written: Readonly<Record<string, readonly Pair[]>> = {
  'direction-as-text': [
    [
      '"{text}" is no {kind} that MusicXML knows: written as text.',
      '„{text}“ ist {kind:direction}, das MusicXML kennt: als Text geschrieben.',
    ],
  ],
  'divisions-large': [
    [
      'The notes of this part need {n} divisions of a quarter to be written exactly: other programs may not count that far.',
      'Die Noten dieser Stimme brauchen {n} Teile eines Viertels, um genau geschrieben zu werden: Andere Programme zählen vielleicht nicht so weit.',
    ],
  ],
  'duration-not-positive': [
    ['A note that lasts no time was left out.', 'Eine Note ohne Dauer wurde ausgelassen.'],
  ],
  'octave-moved': [
    [
      'A note stands in octave {n}; MusicXML holds octaves 0 to 9 only: written in octave {nearest}.',
      'Eine Note steht in Oktave {n}; MusicXML fasst nur die Oktaven 0 bis 9: geschrieben in Oktave {nearest}.',
    ],
  ],
  'no-parts': [
    [
      'The score has bars but no parts: one silent part was written, with a rest for each bar.',
      'Die Partitur hat Takte, aber keine Stimmen: Geschrieben wurde eine stumme Stimme mit einer Pause für jeden Takt.',
    ],
  ],
  'sign-not-standard': [
    [
      '[A fermata|An accidental|A notehead|A beam] is called "{name}", which MusicXML does not know: it was left out.',
      'Ein Zeichen heißt „{name}“, was MusicXML nicht kennt: Es wurde ausgelassen.',
    ],
    [
      '[A fermata|An accidental|A notehead|A beam] is called "{name}", which MusicXML does not know: written as "{other}".',
      'Ein Zeichen heißt „{name}“, was MusicXML nicht kennt: geschrieben als „{other}“.',
    ],
  ],
  'technique-as-text': [
    [
      'The playing technique "{text}" lacks what its own sign needs in MusicXML: written as text.',
      'Der Spielanweisung „{text}“ fehlt, was ihr eigenes Zeichen in MusicXML braucht: als Text geschrieben.',
    ],
  ],
  'tempo-rounded': [
    [
      'A tempo of {figure} has no finite decimal: {text} is written.',
      'Ein Tempo von {figure} hat keine endliche Dezimalzahl: Geschrieben wird {text:decimal}.',
    ],
  ],
  'tempo-unit-not-drawn': [
    [
      'No note values make up {length}: the tempo is written for playback only.',
      'Keine Notenwerte ergeben {length:length}: Das Tempo steht nur für die Wiedergabe da.',
    ],
    [
      'No note values make up the change of beat {from} = {to}: it was left out.',
      'Keine Notenwerte ergeben den Wechsel des Schlags {from} = {to}: Er wurde ausgelassen.',
    ],
  ],
  'text-not-xml': [
    held('A fermata', 'Eine Fermate'),
    held('An accidental', 'Ein Vorzeichen'),
    held('A notehead', 'Ein Notenkopf'),
    held('A beam', 'Ein Balken'),
    held('The name of a part', 'Name einer Stimme'),
    held('The sound of a part', 'Klang einer Stimme'),
    held('The abbreviation of a part', 'Kürzel einer Stimme'),
    held('The title', 'Titel'),
    held('An ornament', 'Eine Verzierung'),
    held('A playing technique', 'Eine Spielanweisung'),
    held('An articulation', 'Eine Artikulation'),
    held('A dynamic', 'Ein Dynamikzeichen'),
    held('A direction', 'Eine Vortragsanweisung'),
    held('The name of a segno or coda', 'Name eines Segno oder einer Coda'),
    held('The mode of a key', 'Tongeschlecht einer Tonart'),
    held('The text of an ending', 'Text einer Klammer'),
    held('The text under a note', 'Text unter einer Note'),
    held('The name of a verse', 'Name einer Strophe'),
    held('The name of a voice', 'Name einer Stimme'),
    held('A tempo word', 'Ein Tempowort'),
    held('A rehearsal mark', 'Ein Studierzeichen'),
    held('A bar number', 'Eine Taktzahl'),
  ],
};
