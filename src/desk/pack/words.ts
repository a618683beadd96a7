/** The page that lies in every pack, in plain words: a table a language. */
import { unitText } from '../../plan/words.ts';
import { F } from '../../units/index.ts';
import type { TellingLanguage } from '../words/language.ts';
import type { PlainClick } from './plainClick.ts';

export interface PackWords {
  readonly title: (player: string) => string;
  readonly intro: (piece: string) => string;
  readonly drill: (n: number, name: string) => string;
  readonly files: readonly (readonly [
    file: 'part' | 'click' | 'others' | 'midi' | 'musicxml',
    text: string,
  ])[];
  readonly fileNames: Readonly<Record<'part' | 'click' | 'others' | 'music' | 'page', string>>;
  readonly counted: (words: string) => string;
  readonly uncounted: string;
  readonly plain: (click: PlainClick) => string;
  readonly ears: string;
  readonly flac: string;
}

const number = (value: number, point: string): string => String(value).replace('.', point);

const germanUnits: Readonly<Record<string, string>> = {
  '1': 'die Ganze',
  '3/4': 'die punktierte Halbe',
  '1/2': 'die Halbe',
  '3/8': 'die punktierte Viertel',
  '1/4': 'die Viertel',
  '3/16': 'die punktierte Achtel',
  '1/8': 'die Achtel',
  '1/16': 'die Sechzehntel',
};

const englishUnit = (unit: string): string => {
  const length = F.parse(unit);
  return length === null ? unit : unitText(length);
};

const english: PackWords = {
  title: (player) => `For ${player}`,
  intro: (piece) => `What you need to practise alone: ${piece}. Each folder is one drill.`,
  drill: (n, name) => `${n}. ${name}`,
  files: [
    ['part', 'your part, with the click marked above the notes'],
    ['click', 'the click, to play along with'],
    ['others', 'the click and all others without you'],
    ['midi', 'the same for programs that read MIDI'],
    ['musicxml', 'the notes for programs that read MusicXML'],
  ],
  fileNames: {
    part: 'my part',
    click: 'click',
    others: 'click and others',
    music: 'music',
    page: 'read me first',
  },
  counted: (words) => `It counts you in: ${words}.`,
  uncounted: 'Nobody counts you in.',
  plain: (click) => {
    if (click.kind === 'none') return 'With a plain click: none; this is played without one.';
    if (click.kind === 'uneven')
      return 'With a plain click: not possible, this click does not tick evenly. Use the sound file.';
    const { set, unit, each, mark, bar, beat, beats, steps } = click;
    const near = mark === null ? '' : ` (the nearest mark on a scale is ${mark})`;
    const every =
      each === 1 ? '' : ` and take every ${each === 2 ? 'second' : each === 3 ? 'third' : `${each}th`} tick`;
    const later = steps === 0 ? '' : ' Set it anew for each later tempo.';
    return `With a plain click: set the ${englishUnit(unit)} to ${number(set, '.')}${near}${every}. A tick falls on ${beats.length === 1 ? 'beat' : 'beats'} ${beats.join(', ')} of the bar. Start counting so that the first tick you use is beat ${beat} of bar ${bar}.${later}`;
  },
  ears: 'Start with the volume right down: a click in the ear comes on top of your own playing. Rest before it hurts.',
  flac: 'Sounds lie there twice, the same to the last sample: WAV for every program, FLAC much smaller for a telephone.',
};

const german: PackWords = {
  title: (player) => `Für ${player}`,
  intro: (piece) => `Was man braucht, um allein zu üben: ${piece}. Jeder Ordner ist eine Übung.`,
  drill: (n, name) => `${n}. ${name}`,
  files: [
    ['part', 'die eigene Stimme, der Klick steht über den Noten'],
    ['click', 'der Klick zum Mitspielen'],
    ['others', 'der Klick und alle anderen, ohne die eigene Stimme'],
    ['midi', 'dasselbe für Programme, die MIDI lesen'],
    ['musicxml', 'die Noten für Programme, die MusicXML lesen'],
  ],
  fileNames: {
    part: 'meine Stimme',
    click: 'Klick',
    others: 'Klick und andere',
    music: 'Noten',
    page: 'zuerst lesen',
  },
  counted: (words) => `Vorgezählt wird: ${words}.`,
  uncounted: 'Niemand zählt vor.',
  plain: (click) => {
    if (click.kind === 'none') return 'Mit einem einfachen Klick: keiner; das wird ohne gespielt.';
    if (click.kind === 'uneven')
      return 'Mit einem einfachen Klick: geht nicht, dieser Klick tickt nicht gleichmäßig. Die Klangdatei nehmen.';
    const { set, unit, each, mark, bar, beat, beats, steps } = click;
    const near = mark === null ? '' : ` (die nächste Zahl auf einer Skala ist ${mark})`;
    const every =
      each === 1
        ? ''
        : ` und jeden ${each === 2 ? 'zweiten' : each === 3 ? 'dritten' : `${each}.`} Schlag davon nehmen`;
    const later = steps === 0 ? '' : ' Für jedes spätere Tempo neu einstellen.';
    return `Mit einem einfachen Klick: ${germanUnits[unit] ?? unit} auf ${number(set, ',')} einstellen${near}${every}. Er fällt im Takt auf ${beats.length === 1 ? 'Zählzeit' : 'die Zählzeiten'} ${beats.join(', ')}. So zu zählen anfangen, dass der erste Schlag, den man nimmt, Zählzeit ${beat} von Takt ${bar} ist.${later}`;
  },
  ears: 'Ganz leise beginnen: ein Klick im Ohr kommt zum eigenen Spiel dazu. Ausruhen, bevor es weh tut.',
  flac: 'Klänge liegen zweimal da, gleich bis aufs letzte Sample: WAV für jedes Programm, FLAC viel kleiner fürs Telefon.',
};

export const packWords: Readonly<Record<TellingLanguage, PackWords>> = { en: english, de: german };
