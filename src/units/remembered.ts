/** What is worked out of a thing that never changes, such as a score, once for each: kept as long as the thing is. */
export const remembered = <K extends object, V>(make: (of: K) => V): ((of: K) => V) => {
  const known = new WeakMap<K, { readonly value: V }>();
  return (of) => {
    const found = known.get(of) ?? { value: make(of) };
    known.set(of, found);
    return found.value;
  };
};
