/** What a file holds and the score has no place for. */
import { translator, type Pair } from '../patterns.ts';
import { kinds } from './values.ts';

const things: readonly Pair[] = [
  ['What the parts play', 'was die Stimmen spielen'],
  ['A fermata before the first bar', 'eine Fermate vor dem ersten Takt'],
  ['The shape of a fermata on a bar line', 'die Form einer Fermate auf dem Taktstrich'],
  ['A sign that stands on no note', 'ein Zeichen, das auf keiner Note steht'],
  ['A slur within sixteen others', 'ein Bindebogen innerhalb von sechzehn anderen'],
  [
    'A key signature that is no row of sharps or flats in the usual order',
    'eine Vorzeichnung, deren Kreuze oder Be nicht in der üblichen Reihe stehen',
  ],
  ['How the lines of a staff look', 'wie die Linien eines Systems aussehen'],
  [
    'A setting of a voice that is not known ("{name}" and the like)',
    'eine unbekannte Angabe zu einer Stimme („{name}“ und dergleichen)',
  ],
  [
    'A decoration that is not known ("{name}" and the like)',
    'eine unbekannte Verzierung („{name}“ und dergleichen)',
  ],
  ['The stroke through a turn', 'der Strich durch einen Doppelschlag'],
  ['A phrase mark', 'ein Phrasierungsbogen'],
  ['That a fermata stands below the staff', 'dass eine Fermate unter dem System steht'],
  ['That an accidental is one of courtesy', 'dass ein Vorzeichen nur der Vorsicht dient'],
  ['That an accidental is editorial', 'dass ein Vorzeichen vom Herausgeber stammt'],
  [
    'A directive for the look of the page or for playback ("{name}" and the like)',
    'eine Anweisung für Seitenbild oder Wiedergabe („{name}“ und dergleichen)',
  ],
  [
    'A change of which voices stand on which staff in the course of a piece',
    'ein Wechsel mitten im Stück, welche Stimme in welchem System steht',
  ],
  ['What another file defines ("{value}")', 'was eine andere Datei festlegt („{value}“)'],
  ['Text set between the music', 'Text zwischen den Noten'],
  ['Text printed below the music', 'Text unter den Noten'],
  [
    'A field that ABC does not know ("{letter}:" and the like)',
    'ein Feld, das ABC nicht kennt („{letter}:“ und dergleichen)',
  ],
  ['A chord symbol', 'ein Akkordsymbol'],
  ['A rest within a chord', 'eine Pause in einem Akkord'],
  [
    'A rest among grace notes, which takes no time',
    'eine Pause unter Vorschlagsnoten, die keine Zeit braucht',
  ],
  ['A sign on a bar line', 'ein Zeichen auf einem Taktstrich'],
  ['That a slur or tie is dotted', 'dass ein Binde- oder Haltebogen gepunktet ist'],
  [
    'That a voice moves between two staves; it stands on the upper one, and so this',
    'dass eine Stimme zwischen zwei Systemen wechselt; sie steht im oberen',
  ],
  ['A further title of a piece', 'ein weiterer Titel eines Stücks'],
  ['A piece without music ("{title}" and the like)', 'ein Stück ohne Noten („{title}“ und dergleichen)'],
  ['That notes are printed small', 'dass Noten klein gedruckt sind'],
  [
    "An editor's remark on a doubtful place (!LO: ... :problem)",
    'eine Anmerkung des Herausgebers zu einer zweifelhaften Stelle (!LO: ... :problem)',
  ],
  [
    'How something is laid out on the page (!LO:{kind})',
    'wie etwas auf der Seite angeordnet ist (!LO:{kind})',
  ],
  ['An accent among the dynamics (v)', 'ein Akzent unter den Dynamikzeichen (v)'],
  ["An editor's mark on dynamics", 'ein Zeichen des Herausgebers an der Dynamik'],
  ['The sign "{part}" among the dynamics', 'das Zeichen „{part}“ unter den Dynamikzeichen'],
  ['The name of a key without a key signature', 'der Name einer Tonart ohne Vorzeichnung'],
  ['The remark "*{text}"', 'die Bemerkung „*{text}“'],
  ['A slur among more than 99 at once', 'ein Bindebogen unter mehr als 99 zugleich'],
  [
    'A chord of more than {most} notes, of which the rest',
    'ein Akkord mit mehr als {most} Noten; die übrigen fehlen',
  ],
  ['The sign "{sign}", which means nothing in **kern', 'das Zeichen „{sign}“, das in **kern nichts bedeutet'],
  [
    'The sign "{sign}", of which the file does not say what it means',
    'das Zeichen „{sign}“, von dem die Datei nicht sagt, was es bedeutet',
  ],
  ['An articulation that the file does not name (I)', 'eine Artikulation, die die Datei nicht benennt (I)'],
  [
    'That a note is an appoggiatura, written out as it is played (P)',
    'dass eine Note ein ausgeschriebener langer Vorschlag ist (P)',
  ],
  [
    'That a note follows an appoggiatura, written out as it is played (p)',
    'dass eine Note auf einen ausgeschriebenen langen Vorschlag folgt (p)',
  ],
  ['That a place is questionable in the source (Y)', 'dass eine Stelle in der Quelle fraglich ist (Y)'],
  ["The mark of an editor's interpretation (x)", 'das Zeichen für eine Deutung des Herausgebers (x)'],
  ["The mark of an editor's addition (X)", 'das Zeichen für einen Zusatz des Herausgebers (X)'],
  [
    'The sign that a remark belongs to a note (?)',
    'das Zeichen, dass eine Bemerkung zu einer Note gehört (?)',
  ],
  ['"{meaning}" ({sign})', '„{meaning}“ ({sign})'],
  ['A section of an analysis', 'ein Abschnitt einer Analyse'],
  ['Another order of the sections (*>{name})', 'eine andere Reihenfolge der Abschnitte (*>{name})'],
  ['A label of a section', 'die Benennung eines Abschnitts'],
  ['A syllable that stands at no note', 'eine Silbe, die an keiner Note steht'],
  ['What a column **{kind} says', 'was eine Spalte **{kind} sagt'],
  ['An alternative version of the music', 'eine andere Fassung der Musik'],
  [
    'A dotted, dashed or partial bar line inside a bar',
    'ein gepunkteter, gestrichelter oder kurzer Taktstrich in einem Takt',
  ],
  ['An ossia (another way to play a place)', 'ein Ossia (eine andere Spielweise)'],
  ['A passage that is struck out', 'eine gestrichene Stelle'],
  ['A gap in the source', 'eine Lücke in der Quelle'],
  ['A fermata on a bar line inside a bar', 'eine Fermate auf einem Taktstrich in einem Takt'],
  ['A wavy line at a bar line', 'eine Wellenlinie am Taktstrich'],
  ['The bar line "{form}"', 'der Taktstrich „{form}“'],
  ['The accidental "{text}"', 'das Vorzeichen „{text}“'],
  [
    'Where a note of a tablature is fingered, and so its pitch,',
    'wo eine Note der Tabulatur gegriffen wird, und damit ihre Tonhöhe',
  ],
  [
    'That a note is drawn on the staff of another part',
    'dass eine Note im System einer anderen Stimme gezeichnet ist',
  ],
  [
    'A short way of drawing bars (bar rests in one sign, slashes, repeat signs for bars)',
    'eine kurze Schreibweise von Takten (Sammelpausen, Schrägstriche, Faulenzer)',
  ],
  [
    'How many strokes a tremolo has and to which note it goes',
    'wie viele Balken ein Tremolo hat und zu welcher Note es führt',
  ],
  ['A beam that asks for getting faster or slower', 'ein Balken, der schneller oder langsamer werden lässt'],
  ['The element "{name}" around notes', 'das Element „{name}“ um Noten herum'],
  ['A tie that does not begin at a note', 'ein Haltebogen, der an keiner Note beginnt'],
  ['A mark "{name}" without a place', 'ein Zeichen „{name}“ ohne Ort'],
  ['A beam that does not say which notes it holds', 'ein Balken, der seine Noten nicht nennt'],
  [
    'A mark that tells how a group of notes is to be played (such as swing)',
    'ein Zeichen, wie eine Notengruppe zu spielen ist (etwa Swing)',
  ],
  ['Which accidental belongs to an ornament', 'welches Vorzeichen zu einer Verzierung gehört'],
  ['How far an ornament goes', 'wie weit eine Verzierung reicht'],
  ['The bracket against arpeggiating', 'die Klammer gegen das Arpeggieren'],
  ['Which pedal of the piano is meant', 'welches Pedal des Klaviers gemeint ist'],
  ['A figured bass', 'ein bezifferter Bass'],
  ['A chord symbol or function symbol', 'ein Akkord- oder Funktionssymbol'],
  ['A glissando line', 'eine Glissandolinie'],
  ['A bend of a note', 'das Ziehen eines Tons'],
  ['The sign to let a note ring on', 'das Zeichen, einen Ton ausklingen zu lassen'],
  ['A note of the editor', 'eine Anmerkung des Herausgebers'],
  ['A line drawn on the page', 'eine Linie auf der Seite'],
  ['A diagram of harp pedals', 'ein Bild der Harfenpedale'],
  ['A bracket over notes', 'eine Klammer über Noten'],
  ['A sign to copy a passage', 'ein Zeichen, eine Stelle zu kopieren'],
  ['A sign of the scribe', 'ein Zeichen des Schreibers'],
  ['A spoken text', 'ein gesprochener Text'],
  ['A stage direction', 'eine Bühnenanweisung'],
  ['A group of fingerings', 'eine Gruppe von Fingersätzen'],
  ['A further order of playing that the file spells out', 'eine weitere Spielfolge, die die Datei aufführt'],
  ['Which measures belong together', 'welche Takte zusammengehören'],
  ['A staff in neumes or mensural notation', 'ein System in Neumen oder Mensuralnotation'],
  ['The element "{name}" between measures', 'das Element „{name}“ zwischen Takten'],
  ['The single parts beside the score', 'die Einzelstimmen neben der Partitur'],
  ['The bracket around parts', 'die Klammer um mehrere Stimmen'],
  ['That the part is doubled an octave away', 'dass die Stimme in der Oktave verdoppelt wird'],
  ['The bracket of a part', 'die Klammer einer Stimme'],
  [
    'How a part drawn from this score would transpose',
    'wie eine aus dieser Partitur gezogene Stimme transponieren würde',
  ],
  ['A directive', 'eine Anweisung'],
  ['How many instruments share the part', 'wie viele Instrumente sich die Stimme teilen'],
  ['A slide between notes', 'ein Schleifen zwischen Tönen'],
  ['An accidental standing apart from its note', 'ein Vorzeichen, das abseits seiner Note steht'],
  ['The notation "{name}"', 'die Notierung „{name}“'],
  ['The sign for {name} under a note', 'das Zeichen „{name}“ unter einer Note'],
  [
    'That a jump or a tempo holds only at certain times through a repeat',
    'dass ein Sprung oder ein Tempo nur bei bestimmten Durchgängen gilt',
  ],
  ['The playback setting "{name}"', 'die Wiedergabeeinstellung „{name}“'],
  ['What a direction "{name}" says in detail', 'was eine Anweisung „{name}“ im Einzelnen sagt'],
  ['What a program is to listen for', 'worauf ein Programm hören soll'],
  ['Which instrument of several a note is for', 'für welches von mehreren Instrumenten eine Note ist'],
  ['How a note is to be played back', 'wie eine Note wiedergegeben werden soll'],
  [
    'That a note is played only at certain times through a repeat',
    'dass eine Note nur bei bestimmten Durchgängen gespielt wird',
  ],
  ['A group marked for analysis', 'eine für die Analyse markierte Gruppe'],
  ['The element "{name}"', 'das Element „{name}“'],
  [
    'A message to a certain machine (system exclusive)',
    'eine Nachricht an ein bestimmtes Gerät (System Exclusive)',
  ],
  [
    'What controllers and pressure say (pedal, volume and the like)',
    'was Regler und Tastendruck sagen (Pedal, Lautstärke und dergleichen)',
  ],
  ['A bend of the pitch away from that of the key', 'eine Abweichung der Tonhöhe von der Taste'],
  ['A change of sound within a part after its first', 'ein späterer Klangwechsel innerhalb einer Stimme'],
  [
    'A text or cue point that is no track name, marker or lyric',
    'ein Text oder eine Marke, die weder Spurname noch Markierung noch Liedtext ist',
  ],
  ['A syllable where no note of its track begins', 'eine Silbe, bei der keine Note ihrer Spur beginnt'],
  ['What else lies in the archive', 'was sonst im Archiv liegt'],
  ['Text that stands between the pieces', 'Text zwischen den Stücken'],
];

const more: readonly Pair[] = [
  ['found {times}', '{times:times} vorhanden'],
  ['one line', 'eine Zeile'],
  ['{n} lines', '{n} Zeilen'],
];

const thing = translator(things, () => kinds);
const often = translator(more, () => kinds);

const all = { thing, often: (text: string) => often(text) ?? text };

/** "Nicht übernommen: eine Glissandolinie (3-mal vorhanden)." */
export const notKept = translator(
  [['{thing} is not kept ({often}).', 'Nicht übernommen: {thing:thing} ({often:often}).']],
  () => all,
);
