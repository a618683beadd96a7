/**
 * Which kind of file these bytes are, by content alone, and the reader for it. Sources of the signatures: ZIP,
 * PKWARE APPNOTE.TXT 4.3.7; MIDI, Standard MIDI Files 1.0; PNG, ISO/IEC 15948; JPEG, ITU-T T.81; PDF, ISO 32000-1;
 * RIFF, Microsoft and IBM 1991; gzip, RFC 1952; Ogg, RFC 3533; the rest common knowledge, from memory.
 */
import { fail, type Result } from '../../units/index.ts';
import type { Score } from '../model.ts';
import { looksLikeAbc, readAbc } from './abc/index.ts';
import { hasControls, isBinary, withoutControls } from './controls.ts';
import { looksLikeBarPlan, readBarPlan } from './barplan.ts';
import { looksLikeKern, readKern } from './kern/index.ts';
import { readMei } from './mei/index.ts';
import { readMidi } from './midi.ts';
import { readMusicXml, readMxl } from './musicxml/index.ts';
import { decodeText } from './text.ts';

const latin = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));

const signatures: readonly (readonly [prefix: string, what: string])[] = [
  ['%PDF', 'a PDF: pages to look at, not notes to count'],
  ['\x89PNG', 'a picture (PNG)'],
  ['\xff\xd8\xff', 'a picture (JPEG)'],
  ['GIF8', 'a picture (GIF)'],
  ['BM', 'a picture (BMP)'],
  ['II*\0', 'a picture (TIFF)'],
  ['MM\0*', 'a picture (TIFF)'],
  ['ID3', 'a sound file (MP3)'],
  ['\xff\xfb', 'a sound file (MP3)'],
  ['fLaC', 'a sound file (FLAC)'],
  ['OggS', 'a sound file (Ogg)'],
  ['\x1f\x8b', 'a gzip archive; unpack it first'],
  ['7z\xbc\xaf', 'a 7z archive; unpack it first'],
  ['Rar!', 'a RAR archive; unpack it first'],
  ['\xd0\xcf\x11\xe0', 'an old office document'],
  ['\x7fELF', 'a program'],
  ['MZ', 'a program'],
];

const binaryKind = (bytes: Uint8Array): string | null => {
  const head = latin(bytes, 0, 16);
  if (head.startsWith('RIFF')) {
    const form = head.slice(8, 12);
    if (form === 'WAVE') return 'a sound file (WAV)';
    if (form === 'WEBP') return 'a picture (WebP)';
    if (form === 'RMID') return 'a MIDI file wrapped in RIFF; save it as a standard MIDI file';
    return 'a RIFF file';
  }
  if (head.slice(4, 8) === 'ftyp') return 'a sound or video file (MP4)';
  return signatures.find(([prefix]) => head.startsWith(prefix))?.[1] ?? null;
};

const notAScore = (what: string): Result<never> =>
  fail(
    'not-a-score',
    `This is not a score that can be read: it is ${what}. Scores are read from MusicXML (.musicxml, .xml, .mxl), MEI, Humdrum kern, ABC and MIDI files, and from bar plans.`,
  );

/** Name of the outermost element of an XML text, comments, instructions and document type passed over. */
const rootName = (text: string): string => {
  let rest = text;
  for (let round = 0; round < 100; round += 1) {
    rest = rest.trimStart();
    const end = rest.startsWith('<!--') ? '-->' : rest.startsWith('<?') ? '?>' : null;
    if (end !== null) {
      const at = rest.indexOf(end);
      if (at < 0) return '';
      rest = rest.slice(at + end.length);
      continue;
    }
    const doctype = /^<!doctype\s+([^\s>[]+)/i.exec(rest);
    if (doctype !== null) return doctype[1] ?? '';
    return /^<([^\s/>]+)/.exec(rest)?.[1] ?? '';
  }
  return '';
};

const readXml = (text: string): Result<Score> => {
  const root = rootName(text);
  if (/^html$/i.test(root))
    return notAScore('a web page (HTML); perhaps the download gave a page instead of the file');
  if (/^(\w+:)?mei(Corpus)?$/.test(root)) return readMei(text);
  if (root === 'svg') return notAScore('a picture (SVG)');
  return readMusicXml(text);
};

/** A format of plain text: a stray NUL byte in it is passed over, and told. */
const readPlain = (text: string, read: (text: string) => Result<Score>): Result<Score> => {
  const plain = withoutControls(text);
  const score = read(plain.text);
  return score.ok ? { ...score, problems: [...plain.problems, ...score.problems] } : score;
};

const readText = (bytes: Uint8Array): Result<Score> => {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return decoded;
  const text = decoded.value;
  const start = text.trimStart();
  let score: Result<Score>;
  if (start === '') return fail('file-empty', 'The file is empty: it holds nothing but white space.');
  if (start.startsWith('<')) score = readXml(text);
  else if (isBinary(text)) return notAScore('made of bytes that are no text and no known kind of file');
  else if (looksLikeKern(start)) score = readPlain(text, readKern);
  else if (looksLikeAbc(start)) score = readPlain(text, readAbc);
  else if (hasControls(text.slice(0, 4000)))
    return notAScore('made of bytes that are no text and no known kind of file');
  else if (looksLikeBarPlan(text)) score = readBarPlan(text);
  else return notAScore(/^[[{]/.test(start) ? 'a JSON file' : 'plain text');
  return score.ok ? { ...score, problems: [...decoded.problems, ...score.problems] } : score;
};

/**
 * Reads a score, whatever its file is called. Errors: `file-empty`; `not-a-score`, naming what the bytes look like, and those of the
 * reader that was chosen.
 */
export const readScore = (bytes: Uint8Array): Result<Score> => {
  if (bytes.length === 0) return fail('file-empty', 'The file is empty: it has no bytes at all.');
  const head = latin(bytes, 0, 4);
  if (head === 'PK\x03\x04' || head === 'PK\x05\x06') return readMxl(bytes);
  if (head === 'MThd') return readMidi(bytes);
  const kind = binaryKind(bytes);
  return kind === null ? readText(bytes) : notAScore(kind);
};
