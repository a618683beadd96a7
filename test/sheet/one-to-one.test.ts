/** Every written note is one element of the engraved pages, and no element is another: on real scores. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, describe, expect, it } from 'vitest';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { sharedData } from '../shared.ts';
import { scoreFrom } from './support.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

/** `<note>` elements in the file itself, counted in its text: no reader of ours. */
const notesInFile = (bytes: Uint8Array): number => {
  const files = unzipSync(bytes);
  const name = Object.keys(files).find((one) => /\.(xml|musicxml)$/.test(one) && !one.startsWith('META-INF'));
  const text = strFromU8(files[name ?? ''] ?? new Uint8Array());
  return [...text.matchAll(/<note[\s>]/g)].length;
};

interface Found {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly notes: number;
}

/** The quartet with the most written notes. */
const largest = (folder: string): Found => {
  const [first, ...others] = readdirSync(folder)
    .filter((file) => file.endsWith('.mxl'))
    .map((file): Found => {
      const bytes = new Uint8Array(readFileSync(path.join(folder, file)));
      return { file, bytes, notes: notesInFile(bytes) };
    });
  if (first === undefined) throw new Error('no quartets');
  return others.reduce((most, next) => (next.notes > most.notes ? next : most), first);
};

describe('note and element', () => {
  it.skipIf(sharedData === null)(
    'are one to one on the largest shared quartet',
    async () => {
      const { file, bytes, notes } = largest(path.join(sharedData ?? '', 'scores', 'openscore-quartets'));
      const score = scoreFrom(bytes);
      const engraved = await engraver.engrave(writeMusicXml(score).text, { staff: 7, width: 186 });
      if (!engraved.ok) throw new Error(engraved.error.message);
      const elements = engraved.value.pictures.flatMap((picture) =>
        [...picture.matchAll(/<g id="([^"]*)" class="(note|rest|mRest|multiRest|space|mSpace)"/g)].map(
          ([, id = '', kind = '']) => ({ id, unseen: kind.endsWith('pace') }),
        ),
      );
      const written = score.parts.flatMap((part) => part.written);
      const ours = written.map(({ id }) => id);
      // Rests that are not to be printed are elements that draw nothing; the engraver adds such spaces of its own.
      const hidden = new Set(written.filter(({ printed }) => !printed).map(({ id }) => id));
      const own = elements.filter(({ id, unseen }) => !unseen || hidden.has(id));
      console.log(`${file}: ${notes} written notes and rests, ${own.length} elements`);
      expect(own.map(({ id }) => id).toSorted()).toEqual(ours.toSorted());
      expect(new Set(ours).size).toBe(ours.length);
      expect(ours.length).toBe(notes);
    },
    180_000,
  );
});
