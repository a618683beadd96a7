/** What each player takes home: one zip with their own part, clicks, the others' sound, and a page in plain words. */
import { strToU8, zipSync, type Zippable } from 'fflate';
import type { Drill } from '../../drill/model.ts';
import { summaryOf } from '../summary.ts';
import { fail, ok, type Problem, type Result } from '../../units/index.ts';
import type { PieceSettings } from '../fitScore.ts';
import { makeDrill, type DrillFolder } from '../makeDrill.ts';
import { pageFiles } from '../pageFiles.ts';
import type { FileToWrite } from '../ports.ts';
import { eachOnce } from '../readOnce.ts';
import type { DrillRequest } from '../request.ts';
import { makeSheets, type SheetPorts } from '../sheet.ts';
import type { SoundOptions } from '../soundFiles.ts';
import { textPages, type TextLine } from '../../sheet/textPages.ts';
import { usualSheet, type SheetOptions } from '../../sheet/index.ts';
import type { TellingLanguage } from '../words/language.ts';
import { packNames, safeNames } from './names.ts';
import { plainClick } from './plainClick.ts';
import { packWords } from './words.ts';

/** Packs sound without losing a sample. */
export interface FlacPort {
  /** `samples`: 16 bits, channels interleaved. Same sound, same bytes. Error: `sound-not-packed`. */
  readonly encode: (
    samples: Int16Array,
    options: { rate: number; channels: number },
  ) => Promise<Result<Uint8Array>>;
}

export interface PackPorts {
  /** Null: no pages. */
  readonly sheets: SheetPorts | null;
  /** Null: WAV only. */
  readonly flac: FlacPort | null;
  /** Told after each drill of each player: how many are done, of how many. */
  readonly progress?: (done: number, of: number) => void;
}

/** A drill that goes into the packs. */
export interface PackDrill {
  readonly name: string;
  readonly request: DrillRequest;
}

export interface PackOptions {
  readonly settings?: PieceSettings;
  readonly sound?: SoundOptions;
  readonly sheet?: SheetOptions;
  readonly language?: TellingLanguage;
  /** Names of players by part id; else the part's name. */
  readonly players?: Readonly<Record<string, string>>;
  /** Ids of the parts that get a pack; null: all. */
  readonly parts?: readonly string[] | null;
}

/** A drill that was made before, as it may be asked for again. */
export const requestOf = ({
  bars,
  pass,
  parts,
  keep,
  click,
  tacet,
  count,
  groups,
  tempo,
  times,
  gap,
  countIn,
  upbeat,
  holds,
  octaves,
}: Drill): DrillRequest => ({
  bars,
  pass,
  parts,
  keep,
  click,
  tacet,
  count,
  groups,
  tempo,
  times,
  gap,
  countIn,
  upbeat,
  holds,
  octaves,
});

/** Seconds of one drill beyond which no pack is made: its sounds are held in memory. Our choice. */
const longest = 1800;

/**
 * The same time in every archive: no clock, same bytes. Made "on Unix", a plain file that all may read: Info-ZIP takes names for those of an old
 * code page where an archive says that it comes from DOS, whatever its flag for UTF-8 says.
 */
const archive = { mtime: '1985-01-01T12:00:00', os: 3, attrs: 0o100644 << 16 } as const;

const gathered = ({ chunks, size }: FileToWrite): Uint8Array => {
  const list = [...chunks];
  const all = new Uint8Array(list.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of list) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return size === null || all.length > 0 ? all : new Uint8Array(0);
};

/** Samples of a WAV file of ours with 16 bits: a header of 44 bytes, then the samples (src/sound/wav/write.ts). */
const samplesOf = (wav: Uint8Array): Int16Array => {
  const view = new DataView(wav.buffer, wav.byteOffset, wav.byteLength);
  const count = Math.floor((wav.length - 44) / 2);
  return Int16Array.from({ length: count }, (_, i) => view.getInt16(44 + 2 * i, true));
};

const channelsOf = (wav: Uint8Array): number => new DataView(wav.buffer, wav.byteOffset).getUint16(22, true);

interface Made {
  readonly name: string;
  readonly folder: DrillFolder;
}

/** The page in plain words, as lines. */
const pageOf = (
  player: string,
  piece: string,
  made: readonly Made[],
  language: TellingLanguage,
): readonly TextLine[] => {
  const words = packWords[language];
  return [
    { kind: 'title', text: words.title(player) },
    { kind: 'text', text: words.intro(piece) },
    ...made.flatMap(({ name, folder }, i): TextLine[] => {
      const { countIn } = summaryOf(folder.worked);
      return [
        { kind: 'head', text: words.drill(i + 1, name) },
        { kind: 'text', text: countIn.length === 0 ? words.uncounted : words.counted(countIn.join(', ')) },
        { kind: 'text', text: words.plain(plainClick(folder.worked)) },
      ];
    }),
    { kind: 'head', text: '—' },
    ...words.files.map(([file, text]): TextLine => {
      const name = file === 'midi' || file === 'musicxml' ? words.fileNames.music : words.fileNames[file];
      const ending = {
        part: '.pdf',
        click: '.wav .flac',
        others: '.wav .flac',
        midi: '.mid',
        musicxml: '.musicxml',
      }[file];
      return { kind: 'small', text: `${name} ${ending}: ${text}` };
    }),
    { kind: 'small', text: words.flac },
    { kind: 'small', text: words.ears },
  ];
};

const plainText = (lines: readonly TextLine[]): string =>
  `${lines.map((line) => (line.kind === 'row' ? `${line.lead} ${line.text}` : line.kind === 'head' ? `\r\n${line.text}` : line.text)).join('\r\n')}\r\n`;

/** The sound file as it is and packed. */
const sounds = async (
  wav: Uint8Array,
  name: string,
  rate: number,
  { flac }: PackPorts,
): Promise<{ files: Zippable; problems: readonly Problem[] }> => {
  const files: Zippable = { [`${name}.wav`]: [wav, { level: 6 }] };
  if (flac === null) return { files, problems: [] };
  const packed = await flac.encode(samplesOf(wav), { rate, channels: channelsOf(wav) });
  if (!packed.ok) return { files, problems: [{ ...packed.error, severity: 'note' }] };
  return { files: { ...files, [`${name}.flac`]: [packed.value, { level: 0 }] }, problems: [] };
};

/**
 * One zip for each player: for each drill a folder with the own part (PDF), the click and the click with the others (WAV and FLAC), MIDI and
 * MusicXML; and one page in plain words (text and PDF) with how to set a plain click. Same request, same bytes. Errors: those of `makeDrill`,
 * `pack-too-long`, `pack-without-parts`. Problems: those of the drills, `sound-not-packed`.
 */
export const makePacks = async (
  bytes: Uint8Array,
  drills: readonly PackDrill[],
  ports: PackPorts,
  options: PackOptions = {},
): Promise<Result<readonly FileToWrite[]>> => {
  const { sheet = usualSheet, language = 'en', players = {}, parts = null, settings } = options;
  const words = packWords[language];
  const sound: SoundOptions = { ...options.sound, depth: 16 };
  const rate = sound.rate ?? 48_000;
  const problems: Problem[] = [];
  const make = (request: DrillRequest, without: readonly string[]): Result<DrillFolder> =>
    makeDrill(bytes, request, { ...sound, without, ...(settings === undefined ? {} : { settings }) });
  const folders: DrillFolder[] = [];
  for (const { request } of drills) {
    const made = make(request, []);
    if (!made.ok) return made;
    problems.push(...made.problems);
    if (made.value.summary.duration > longest)
      return fail(
        'pack-too-long',
        `A drill of ${Math.round(made.value.summary.duration / 60)} minutes is too long for a pack; up to ${longest / 60} go in. Ask for fewer bars or repetitions.`,
      );
    folders.push(made.value);
  }
  const [first] = folders;
  const all = first?.worked.score.parts ?? [];
  const wanted = all.filter(
    ({ id }) =>
      (parts === null || parts.includes(id)) &&
      folders.some(({ worked }) => worked.parts.some((part) => part.id === id)),
  );
  if (first === undefined || wanted.length === 0)
    return fail(
      'pack-without-parts',
      'No player has notes in these drills, so there is nothing to take home.',
    );
  const piece = first.worked.score.title;
  const named = (id: string, name: string): string =>
    (Object.hasOwn(players, id) ? players[id] : undefined) ?? (name === '' ? id : name);
  const zipNames = packNames(
    piece,
    wanted.map(({ id, name }) => named(id, name)),
  );
  const drillNames = safeNames(
    drills.map(({ name }, i) => `${String(i + 1).padStart(2, '0')} ${name}`),
    'drill',
  );
  const packs: FileToWrite[] = [];
  for (const [k, part] of wanted.entries()) {
    const player = named(part.id, part.name);
    const files: Zippable = {};
    const own: Made[] = [];
    for (const [i, drill] of drills.entries()) {
      ports.progress?.(k * drills.length + i, wanted.length * drills.length);
      const whole = folders[i];
      if (whole?.worked.parts.some(({ id }) => id === part.id) !== true) continue;
      const made = make(drill.request, [part.id]);
      if (!made.ok) return made;
      const folder = drillNames[i] ?? '';
      own.push({ name: drill.name, folder: made.value });
      const put = (name: string, data: Uint8Array): void => {
        files[`${folder}/${name}`] = [data, { level: 6 }];
      };
      const file = (name: string): FileToWrite | undefined =>
        made.value.files.find((one) => one.name === name);
      for (const [source, name] of [
        ['click.wav', words.fileNames.click],
        ['full.wav', words.fileNames.others],
      ] as const) {
        const wav = file(source);
        if (wav === undefined) continue;
        const packed = await sounds(gathered(wav), `${folder}/${name}`, rate, ports);
        Object.assign(files, packed.files);
        problems.push(...packed.problems);
      }
      for (const ending of ['mid', 'musicxml']) {
        const source = file(`drill.${ending}`);
        if (source !== undefined) put(`${words.fileNames.music}.${ending}`, gathered(source));
      }
      if (ports.sheets === null) continue;
      const { worked } = made.value;
      const names = pageFiles(worked.parts, worked.score.parts);
      const page = names.find((one) => one.part === part.id) ?? names[0];
      const sheets = await makeSheets(worked, ports.sheets, sheet, page === undefined ? [] : [page.file]);
      if (!sheets.ok) problems.push({ ...sheets.error, severity: 'note' });
      else {
        problems.push(...sheets.problems);
        for (const pdf of sheets.value.files) put(`${words.fileNames.part}.pdf`, gathered(pdf));
      }
    }
    const lines = pageOf(player, piece, own, language);
    files[`${words.fileNames.page}.txt`] = [strToU8(`\ufeff${plainText(lines)}`), { level: 6 }];
    if (ports.sheets !== null) {
      const text = textPages(lines, sheet, ports.sheets.pdf.textFaces);
      if (text.ok) {
        const { page, pages } = text.value;
        const pdf = await ports.sheets.pdf.make(
          pages.map((svg) => ({ svg })),
          { title: words.title(player), language, ...page },
        );
        problems.push(
          ...text.problems,
          ...(pdf.ok ? pdf.problems : [{ ...pdf.error, severity: 'note' as const }]),
        );
        if (pdf.ok) files[`${words.fileNames.page}.pdf`] = [pdf.value, { level: 6 }];
      }
    }
    const zip = zipSync(files, archive);
    packs.push({ name: `${zipNames[k] ?? 'pack'}.zip`, chunks: [zip], size: zip.length });
  }
  return ok(packs, eachOnce(problems));
};
