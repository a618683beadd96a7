/**
 * File names that every system takes, from texts in any script. Windows: Microsoft, "Naming Files, Paths, and Namespaces" (characters, reserved
 * names, no dot or blank at the end); Unicode form C, as most systems compare names (UAX 15); lengths below the 255 bytes of common file systems.
 */

/** Characters that Windows forbids, controls, and what is not seen or turns the direction of writing. */
const forbidden =
  /[<>:"/\\|?*\u0000-\u001f\u007f-\u009f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufffd]/gu;

/** Names of devices on Windows, with or without an ending, whatever the case. */
const reserved = /^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(?:\..*)?$/iu;

/** Characters and UTF-8 bytes that a name may have at most, its ending not among them. Our choice: paths on Windows end at 260. */
const most = { characters: 60, bytesEach: 2 } as const;

/** What a piece's title may take of a pack's name: the player's name behind it is what packs are told apart by. */
const mostOfTitle = 30;

const encoder = new TextEncoder();

/** Whole letters with their marks, so that none is cut in two. */
const cut = (text: string, characters: number): string => {
  let result = '';
  let count = 0;
  for (const [letter] of text.matchAll(/\P{M}\p{M}*|\p{M}+/gu)) {
    count += 1;
    if (count > characters || encoder.encode(result + letter).length > characters * most.bytesEach) break;
    result += letter;
  }
  return result;
};

const trimmed = (text: string): string => text.replace(/^[\s.]+|[\s.]+$/gu, '');

/** A name without ending. Lone halves of surrogates are left out. `otherwise`: where nothing is left of the text. `characters`: at most. */
export const safeName = (text: string, otherwise: string, characters: number = most.characters): string => {
  const whole = Array.from(text)
    .filter((letter) => !/^[\ud800-\udfff]$/.test(letter))
    .join('');
  const plain = trimmed(whole.normalize('NFC').replace(/\s+/gu, ' ').replace(forbidden, '-'));
  const name = trimmed(cut(plain, characters).normalize('NFC'));
  const found = /[\p{L}\p{N}]/u.test(name) ? name : otherwise;
  return reserved.test(found) ? `${found.split('.')[0] ?? found}-` : found;
};

/** What two names have in common where a file system does not tell them apart by case, width or composed letters. */
export const folded = (name: string): string =>
  name.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC');

/** Safe names for texts, each different from all others on every system: the second of a kind gets " 2". */
export const safeNames = (texts: readonly string[], otherwise: string): readonly string[] => {
  const taken = new Set<string>();
  return texts.map((text) => {
    const base = safeName(text, otherwise);
    let name = base;
    for (let i = 2; taken.has(folded(name)); i++) name = `${base} ${i}`;
    taken.add(folded(name));
    return name;
  });
};

/** Names of packs, "piece - player": a long title is cut, not the player's name. */
export const packNames = (piece: string, players: readonly string[]): readonly string[] => {
  const whole = safeName(piece, 'piece');
  const short = safeName(piece, 'piece', mostOfTitle);
  // Cut between words where there are several.
  const title = short === whole ? whole : short.replace(/[\s.,;:(-]+\S*$/u, '') || short;
  return safeNames(
    players.map((player) => `${title} - ${player}`),
    'pack',
  );
};
