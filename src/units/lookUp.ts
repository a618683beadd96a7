/** What a table has under a name that comes from outside; names that every object has, such as "constructor", are in no table. */
export const lookUp = <T>(table: Readonly<Record<string, T>>, name: string): T | undefined =>
  Object.hasOwn(table, name) ? table[name] : undefined;
