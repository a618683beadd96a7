/** The music and its places in words, in German. */
import type { ListedPlace } from '../../../desk/index.ts';
import type { Words } from '../en/index.ts';
import { page } from './page.ts';

const kinds: Readonly<Record<ListedPlace['kind'], string>> = {
  'shared-line': 'eine Linie',
  canon: 'Kanon',
  imitation: 'Imitation',
  'joint-entry': 'gemeinsamer Einsatz',
  'rhythmic-unison': 'gleicher Rhythmus',
  'after-beats': 'Nachschläge',
  'weak-beats': 'nur leichte Schläge',
  syncopation: 'Synkopen',
  'cross-rhythm': 'drei gegen zwei',
  'dots-against-triplets': 'Punktierte gegen Triolen',
  hemiola: 'Hemiole',
  'metre-change': 'Taktwechsel',
  'tempo-change': 'Tempowechsel',
  'tie-over-bar': 'Bindung über den Taktstrich',
  'upbeat-start': 'Auftakt in einer Stimme',
  'long-note-then-run': 'lange Note, dann ein Lauf',
  'last-notes': 'Schlussnoten',
};

/** Note values in the dative plural, as fractions of a whole note. */
const values: Readonly<Record<string, string>> = {
  '1/2': 'Halben',
  '1/4': 'Vierteln',
  '1/8': 'Achteln',
  '1/16': 'Sechzehnteln',
  '1/32': 'Zweiunddreißigsteln',
  '1/3': 'Halbetriolen',
  '1/6': 'Vierteltriolen',
  '1/12': 'Achteltriolen',
  '1/24': 'Sechzehnteltriolen',
  '1/48': 'Zweiunddreißigsteltriolen',
};

/** A note value as it stands before the figure of a tempo. */
const units: Readonly<Record<string, string>> = {
  '1': 'Ganze',
  '1/2': 'Halbe',
  '1/4': 'Viertel',
  '1/8': 'Achtel',
  '1/16': 'Sechzehntel',
  '3/4': 'punktierte Halbe',
  '3/8': 'punktierte Viertel',
  '3/16': 'punktierte Achtel',
};

const valuesText = (value: string): string => values[value] ?? `Noten von ${value}`;

const kindText = ({ kind, value }: ListedPlace): string =>
  value === null ? kinds[kind] : `${kinds[kind]} aus ${valuesText(value)}`;

const barsText = ({ from, to }: ListedPlace): string =>
  from.bar === to.bar ? `Takt ${from.bar}` : `Takt ${from.bar} bis ${to.bar}`;

const intervals = ['Prime', 'Sekunde', 'Terz', 'Quarte', 'Quinte', 'Sexte', 'Septime', 'Oktave'];

/** Staff steps as an interval: 7 "eine Oktave höher", -3 "eine Quarte tiefer", 0 "im Einklang". */
const intervalText = (steps: number): string => {
  if (steps === 0) return 'im Einklang';
  const size = Math.abs(steps);
  const within = size % 7 === 0 ? 7 : size % 7;
  const octaves = (size - within) / 7;
  const more = octaves === 0 ? '' : octaves === 1 ? ' und eine Oktave' : ` und ${octaves} Oktaven`;
  return `eine ${intervals[within] ?? ''}${more} ${steps > 0 ? 'höher' : 'tiefer'}`;
};

/** "die Klarinette folgt der Flöte in Takt 3, Schlag 1, eine Quinte tiefer; dann Fagott". */
const followed = ({ seams, interval: steps, players }: ListedPlace): string => {
  const [first] = seams;
  const interval = steps === null ? '' : `, ${intervalText(steps)}`;
  const rest = [...new Set(seams.flatMap(({ to, also }) => [to, ...also]))].filter(
    (name) => name !== first?.to,
  );
  const when = first === undefined ? '' : ` (Takt ${first.bar}, Schlag ${first.beat}${interval})`;
  const then = rest.length === 0 ? '' : `, dann ${page.listed(rest)}`;
  return `auf ${first?.from ?? players[0] ?? ''} folgt ${first?.to ?? ''}${when}${then}`;
};

/** "3/8 = 66.5" as "punktierte Viertel = 66,5"; what else is printed stays as it is. */
const markText = (text: string): string =>
  text
    .replace(
      /(\d+(?:\/\d+)?) = (\d+)(?:\.(\d+))?/g,
      (_, unit: string, whole: string, part: string | undefined) => {
        const figure = part === undefined ? whole : `${whole},${part}`;
        return `${units[unit] ?? unit} = ${figure}`;
      },
    )
    .replace('a new beat', 'ein neuer Schlag');

const times = (count: number): string => (count === 1 ? 'einmal' : count === 2 ? 'zweimal' : `${count}-mal`);

const why = (place: ListedPlace): string => {
  const { kind, value, seams, text } = place;
  const players = page.listed(place.players);
  const many = place.players.length > 1;
  switch (kind) {
    case 'shared-line':
      return `Eine Linie aus ${value === null ? 'Noten' : valuesText(value)}, auf ${players} verteilt und ${times(seams.length)} weitergereicht: Sie soll klingen, als spielte sie einer.`;
    case 'canon':
      return `Kanon: ${followed(place)}, Ton für Ton; absprechen, wie das Thema geformt wird, und auf den hören, der es vorher hatte.`;
    case 'imitation':
      return `Imitation: ${followed(place)}; gleiche Länge, gleiches Gewicht, gleicher Charakter.`;
    case 'joint-entry':
      return `${players} setzen nach ${text === 'fermata' ? 'einer Fermate' : 'Stille'} gemeinsam ein: Jemand muss den Einsatz geben.`;
    case 'rhythmic-unison':
      return `${players} haben denselben Rhythmus, und nichts verdeckt einen Unterschied.`;
    case 'after-beats':
      return `Nachschläge in ${players}: Sie kommen spät oder eilen, wenn der Schlag nicht zu hören ist.`;
    case 'weak-beats':
      return `${players}: nur auf den leichten Schlägen, Pause auf dem ersten; nach dem Bass setzen, nicht nacheinander.`;
    case 'syncopation':
      return `Synkopen in ${players}: Die kurzen Noten danach eilen.`;
    case 'cross-rhythm':
      return `Triolen gegen Duolen in ${players}: Jede Stimme hält sich an den gemeinsamen Schlag.`;
    case 'dots-against-triplets':
      return `Punktierte gegen Triolen in ${players}: angleichen oder nicht? Vor dem Spielen klären.`;
    case 'hemiola':
      return `Hemiole in ${players}: zwei Dreiertakte wie drei Zweiertakte.`;
    case 'metre-change':
      return `Die Taktart wechselt, ${text.replace(' to ', ' zu ').replace('free', 'frei')}: absprechen, was gleich bleibt.`;
    case 'tempo-change':
      return `Hier wechselt das Tempo (${markText(text)}): absprechen, wer es zeigt.`;
    case 'tie-over-bar':
      return `Nur ${players} ${many ? 'halten' : 'hält'} über den Taktstrich, während die anderen anschlagen.`;
    case 'upbeat-start':
      return `Nur ${players} ${many ? 'führen' : 'führt'} mit dem Auftakt in die Phrase: Das ist der Einsatz für alle.`;
    case 'long-note-then-run':
      return `${players} ${many ? 'gehen' : 'geht'} von einer langen Note in einen Lauf: Dessen erste Noten eilen oder kommen spät.`;
    case 'last-notes':
      return `Die Schlussnoten von ${players} gemeinsam: die Länge absprechen, und wer abnimmt.`;
  }
};

export const places: Words['places'] = {
  kinds,
  all: 'Stellen, an denen es aufeinander ankommt',
  here: 'Hier kommt es aufeinander an:',
  numbered: (place) => `Stelle ${place.number}, ${places.row(place)}`,
  choose: (count) =>
    count === 1
      ? 'eine Stelle, an der ihr voneinander abhängt'
      : `${count} Stellen, an denen ihr voneinander abhängt`,
  none: 'In diesen Takten ist keine Stelle vermerkt.',
  others: (count) => (count === 1 ? 'Noch eine im Stück' : `Noch ${count} im Stück`),
  row: (place) => `${barsText(place)}: ${kindText(place)}, ${page.listed(place.players)}`,
  crowded: (numbers) => `Auf der Seite ist kein Platz für ${page.listed(numbers.map(String))}.`,
  why,
  key: 'Striche zwischen den Notenzeilen neigen sich zu der Stimme, die übernimmt:',
  lines: [
    'durchgehende Linie',
    'lange Striche',
    'kurze Striche',
    'Striche und Punkte',
    'sehr lange Striche',
    'Punkte in weitem Abstand',
  ],
};

export const system: Words['system'] = {
  countIn: 'Das Einzählen',
  bars: (from, to) => (from === to ? `Takt ${from}` : `Takt ${from} bis ${to}`),
  noClicks: 'Keine Klicks',
  clicks: (bars) => `Klicks: ${bars.join('; ')}`,
  clicked: (bar, beats) => `Takt ${bar} Schlag ${page.listed(beats)}`,
  taken: (bar, beat, player) => `${bar === null ? '' : `Takt ${bar} `}Schlag ${beat} ${player}`,
  place: (place, taken) =>
    `Stelle ${place.number}, ${barsText(place)}: ${kindText(place)}${taken === '' ? '' : `; es übernehmen: ${taken}`}.`,
};
