/**
 * From a file's bytes to text: byte order marks, the encoding an XML declaration or an ABC file names, and what the bytes
 * themselves show. Sources: XML 1.0 (5th edition) appendix F, autodetection of character encodings; the Encoding
 * Standard (https://encoding.spec.whatwg.org) for the table of windows-1252 and for reading ISO-8859-1 as it.
 */
import { ok, problem, Refusal, refusable, type Problem, type Result } from '../../units/index.ts';

/** windows-1252, bytes 0x80 to 0x9F (Encoding Standard, index-windows-1252; the five unassigned stay as they are). */
const upper =
  '\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f' +
  '\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178';

const windows1252 = (bytes: Uint8Array): string => {
  const pieces: string[] = [];
  const block = 8192;
  for (let from = 0; from < bytes.length; from += block) {
    const codes = Array.from(bytes.subarray(from, from + block), (byte) =>
      byte >= 0x80 && byte < 0xa0 ? upper.charCodeAt(byte - 0x80) : byte,
    );
    pieces.push(String.fromCharCode(...codes));
  }
  return pieces.join('');
};

/** Strict decoding by the platform; null where the bytes are not of that encoding. */
const strictly = (label: string, bytes: Uint8Array): string | null => {
  try {
    return new TextDecoder(label, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (error) {
    if (error instanceof TypeError || error instanceof RangeError) return null;
    throw error;
  }
};

const starts = (bytes: Uint8Array, ...prefix: number[]): boolean =>
  prefix.every((byte, index) => bytes[index] === byte);

const xmlDeclaration = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)["']/;
/** ABC 2.1, 11.4: "%%abc-charset" or "I:abc-charset", and the name of the character set. */
const abcCharset = /^(?:%%|I:)abc-charset\s+(\S+)/m;

/** The encoding that a text in single bytes names at its beginning, in lower case; empty where it names none. */
const declared = (bytes: Uint8Array): string => {
  const head = String.fromCharCode(...bytes.subarray(0, 4000));
  const match = head.trimStart().startsWith('<') ? xmlDeclaration.exec(head) : abcCharset.exec(head);
  return match?.[1]?.trim().toLowerCase() ?? '';
};

/**
 * Whether text without a mark is UTF-16 all the same: of its first characters most are of the first 256, so that one of
 * every two bytes is zero, always on the same side. Null where it is not.
 */
const unmarkedUtf16 = (bytes: Uint8Array): 'little' | 'big' | null => {
  const count = Math.min(bytes.length, 2000) & ~1;
  let even = 0;
  let odd = 0;
  for (let at = 0; at < count; at += 2) {
    if (bytes[at] === 0) even += 1;
    if (bytes[at + 1] === 0) odd += 1;
  }
  const most = (count / 2) * 0.7;
  if (count < 16) return null;
  if (odd > most && even === 0) return 'little';
  return even > most && odd === 0 ? 'big' : null;
};

const utf16 = (bytes: Uint8Array, bigEndian: boolean): string => {
  const text = strictly(bigEndian ? 'utf-16be' : 'utf-16le', bytes);
  if (text === null)
    throw new Refusal('encoding-broken', 'The text is marked as UTF-16 but is cut off or damaged inside.');
  return text;
};

const singleByte = new Set(['iso-8859-1', 'iso8859-1', 'latin1', 'latin-1', 'windows-1252', 'cp1252']);
const asUtf8 = new Set(['', 'utf-8', 'utf8', 'us-ascii', 'ascii']);

/** `claim`: what the file says of itself; empty where it says nothing and UTF-8 was to be expected. */
const wrong = (claim: string, taken: string): Problem =>
  problem(
    'repair',
    'encoding-wrong',
    `${claim === '' ? 'The text should be UTF-8, and its bytes are not' : `The file says that its text is ${claim}, but its bytes are not`}. It was read as ${taken}: names and words may show wrong letters, notes are not touched.`,
  );

const byDeclaration = (bytes: Uint8Array): Result<string> => {
  const label = declared(bytes);
  if (singleByte.has(label)) return ok(windows1252(bytes));
  if (asUtf8.has(label)) {
    const text = strictly('utf-8', bytes);
    if (text !== null) return ok(text);
    return ok(windows1252(bytes), [wrong(label === '' ? '' : 'UTF-8', 'Western European (windows-1252)')]);
  }
  // The declaration itself was read in single bytes, so a claim of UTF-16 or UTF-32 cannot be true.
  if (/^(utf-?(16|32)|ucs-?[24]|iso-10646)/.test(label)) {
    const text = strictly('utf-8', bytes);
    const taken = text === null ? 'Western European (windows-1252)' : 'UTF-8';
    return ok(text ?? windows1252(bytes), [wrong(label.toUpperCase(), taken)]);
  }
  const text = strictly(label, bytes);
  if (text !== null) return ok(text);
  throw new Refusal(
    'encoding-unknown',
    `The file says that its text is encoded as "${label.slice(0, 40)}", which can not be read. Save it as UTF-8.`,
  );
};

/**
 * Decodes a text file; a byte order mark is removed and wins over what an XML declaration says. Without either, UTF-8
 * is taken, and windows-1252 (with a problem) where the bytes are not UTF-8. Errors: `encoding-unknown`,
 * `encoding-broken`.
 */
export const decodeText = (bytes: Uint8Array): Result<string> =>
  refusable(() => {
    if (starts(bytes, 0xff, 0xfe, 0, 0) || starts(bytes, 0, 0, 0xfe, 0xff))
      throw new Refusal('encoding-unknown', 'The text is UTF-32, which is not read. Save it as UTF-8.');
    if (starts(bytes, 0xef, 0xbb, 0xbf)) {
      const rest = bytes.subarray(3);
      const text = strictly('utf-8', rest);
      return text === null ? ok(windows1252(rest), [wrong('UTF-8', 'windows-1252')]) : ok(text);
    }
    if (starts(bytes, 0xff, 0xfe)) return ok(utf16(bytes.subarray(2), false));
    if (starts(bytes, 0xfe, 0xff)) return ok(utf16(bytes.subarray(2), true));
    if (starts(bytes, 0x3c, 0, 0x3f, 0)) return ok(utf16(bytes, false));
    if (starts(bytes, 0, 0x3c, 0, 0x3f)) return ok(utf16(bytes, true));
    const unmarked = unmarkedUtf16(bytes);
    return unmarked === null ? byDeclaration(bytes) : ok(utf16(bytes, unmarked === 'big'));
  });
