/** A file's bytes in one piece. */
export const gathered = (chunks: Iterable<Uint8Array>): Uint8Array<ArrayBuffer> => {
  const list = [...chunks];
  const all = new Uint8Array(list.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of list) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
};
