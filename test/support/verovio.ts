/**
 * The playing order that Verovio, a general engraving library, finds for a MusicXML file: an independent opinion. Its
 * MEI lists the sections and endings to play in `<expansion plist>`. One engraver for the whole process.
 */
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';

let engraver: VerovioToolkit | null = null;

/** The file's MEI; null where Verovio does not read it. */
export const meiOf = async (bytes: Uint8Array, zipped: boolean): Promise<string | null> => {
  engraver ??= new VerovioToolkit(await createVerovioModule());
  engraver.setOptions({ breaks: 'none', xmlIdChecksum: true, expandNever: true });
  const buffer = new Uint8Array(bytes).buffer;
  const read = zipped
    ? engraver.loadZipDataBuffer(buffer)
    : engraver.loadData(new TextDecoder().decode(bytes));
  return read ? engraver.getMEI() : null;
};

interface Box {
  readonly id: string;
  readonly parts: (Box | number)[];
  readonly plist: string[][];
}

/** Bar indices in the order that the expansions ask for; the bars are numbered as they stand in the MEI. */
export const expanded = (mei: string): number[] => {
  const boxes = new Map<string, Box>();
  const root: Box = { id: '', parts: [], plist: [] };
  const open: Box[] = [root];
  let bar = 0;
  for (const [tag] of mei.matchAll(
    /<(?:\/(?:section|ending)|(?:section|ending|measure|expansion)\b[^>]*)>/g,
  )) {
    const top = open.at(-1) ?? root;
    const id = /xml:id="([^"]*)"/.exec(tag)?.[1] ?? '';
    if (tag.startsWith('</')) open.pop();
    else if (tag.startsWith('<measure')) top.parts.push(bar++);
    else if (tag.startsWith('<expansion'))
      top.plist.push(
        (/plist="([^"]*)"/.exec(tag)?.[1] ?? '').split(/\s+/).map((one) => one.replace('#', '')),
      );
    else {
      const box: Box = { id, parts: [], plist: [] };
      boxes.set(id, box);
      top.parts.push(box);
      if (!tag.endsWith('/>')) open.push(box);
    }
  }
  const play = (box: Box): number[] => {
    const list = box.plist[0]?.flatMap((id) => boxes.get(id) ?? []) ?? box.parts;
    return list.flatMap((part) => (typeof part === 'number' ? [part] : play(part)));
  };
  return play(root);
};
