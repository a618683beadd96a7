/**
 * Reference records of the whole file: title and the meaning of signs. Sources: Humdrum User's Guide, appendix I
 * (https://www.humdrum.org/guide/append1): OTL title, OPR larger work, OTP popular title, RDF meanings of user signs.
 */
import type { SourceRecord } from './types.ts';

/** "!!!OTL@@GER: Die Kunst der Fuge" as code, language and text; null for what is no record. */
export const readRecord = (line: string): SourceRecord | null => {
  const match = /^!!!([^:\s]{1,60}):\s*(.*)$/.exec(line);
  if (match === null) return null;
  const [, code = '', text = ''] = match;
  const [name = '', ...language] = code.split('@');
  return { code: name, primary: language.length !== 1, text: text.replace(/\s+/g, ' ').trim() };
};

/** Larger work and title, each in its primary language if the file says which; else the popular title. */
export const titleOf = (records: readonly SourceRecord[]): string => {
  const first = (name: string): string => {
    const all = records.filter((one) => one.code === name && one.text !== '');
    return (all.find(({ primary }) => primary) ?? all[0])?.text ?? '';
  };
  const names = [first('OPR'), first('OTL')].filter(
    (name, index, all) => name !== '' && all.indexOf(name) === index,
  );
  return names.length > 0 ? names.join(', ') : first('OTP');
};

export interface Signs {
  /** Signs that mark notes as cues, which do not sound. */
  readonly cue: ReadonlySet<string>;
  /** Signs that mark notes as printed small. */
  readonly small: ReadonlySet<string>;
  readonly stemless: ReadonlySet<string>;
  /** Signs that say on which side of the notes something is drawn, and the like. */
  readonly looks: ReadonlySet<string>;
  /** What each other sign means, in the words of the file. */
  readonly meanings: ReadonlyMap<string, string>;
}

/** "RDF**kern: i = cue size", "RDF**kern: N = no stem". */
export const signsOf = (records: readonly SourceRecord[]): Signs => {
  const cue = new Set<string>();
  const small = new Set<string>();
  const stemless = new Set<string>();
  const looks = new Set<string>();
  const meanings = new Map<string, string>();
  for (const { code, text } of records) {
    if (code !== 'RDF**kern') continue;
    const match = /^(\S)\s*=\s*(.{1,80})/.exec(text);
    const [, sign = '', meaning = ''] = match ?? [];
    if (sign === '') continue;
    if (/\bcue[ -]?size|small/i.test(meaning)) small.add(sign);
    else if (/\bcue/i.test(meaning)) cue.add(sign);
    else if (/no stem|stemless|without stem/i.test(meaning)) stemless.add(sign);
    else if (/^(above|below|linked)\b/i.test(meaning)) looks.add(sign);
    else meanings.set(sign, meaning.trim());
  }
  return { cue, small, stemless, looks, meanings };
};
