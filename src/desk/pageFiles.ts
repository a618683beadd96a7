/** What the pages of a drill are called as files. */

/** A page for the stand: the score of all, or one player's part. */
export interface PageFile {
  /** Null: the score. */
  readonly part: string | null;
  /** The part's name; empty for the score. */
  readonly name: string;
  readonly file: string;
}

interface Named {
  readonly id: string;
  readonly name: string;
}

/** A plain file name of a part: its place in the score, and its name's letters and digits. */
const partFile = (name: string, index: number): string => {
  const plain = name
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 40);
  return `part-${index + 1}${plain === '' ? '' : `-${plain}`}.pdf`;
};

/** `kept`: parts of the drill, `all`: of its score. None where there are no parts, the score alone where there is one. */
export const pageFiles = (kept: readonly Named[], all: readonly Named[]): readonly PageFile[] => {
  if (kept.length === 0) return [];
  const score: PageFile = { part: null, name: '', file: 'score.pdf' };
  if (kept.length === 1) return [score];
  const parts = kept.map(({ id, name }): PageFile => {
    const said = name === '' ? id : name;
    return {
      part: id,
      name: said,
      file: partFile(
        said,
        all.findIndex((one) => one.id === id),
      ),
    };
  });
  return [score, ...parts];
};
