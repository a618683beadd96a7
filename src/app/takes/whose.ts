/** Whose recordings are that were brought together: by their names, else in the order of the score. */

interface Named {
  readonly id: string;
  readonly name: string;
}

/** Letters and digits only: "Clarinet in B♭" is "clarinetinb". */
const plain = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');

/** Whether a file's name says a part's, or its player's. */
const says = (file: string, names: readonly string[]): boolean =>
  names.some((name) => plain(name).length > 1 && plain(file).includes(plain(name)));

/**
 * Part ids, one for each file; empty where it is not known. One file is of all players. `called`: what else a part may be called: its player, its
 * instrument. A file that names one part only is that part's; the others, where there is one for each part that is left, go by the order of the score.
 */
export const whose = (
  files: readonly string[],
  parts: readonly Named[],
  called: (part: string) => readonly string[],
): readonly string[] => {
  if (files.length < 2) return files.map(() => '');
  const bare = files.map((file) => file.replace(/\.[^.]*$/, ''));
  const named = bare.map((file) => {
    const fits = parts.filter(({ id, name }) => says(file, [id, name, ...called(id)]));
    return fits.length === 1 ? (fits[0]?.id ?? '') : '';
  });
  // Two files of one name say nothing.
  const sure = named.map((part) => (named.filter((other) => other === part).length === 1 ? part : ''));
  const left = parts.filter(({ id }) => !sure.includes(id));
  if (left.length !== sure.filter((part) => part === '').length) return sure;
  const order = left[Symbol.iterator]();
  return sure.map((part) => {
    if (part !== '') return part;
    const next = order.next();
    return next.done === true ? '' : next.value.id;
  });
};
