/** What this window alone remembers, through loading anew and through a crash of the browser (sessionStorage). */

/** Null where nothing was noted, and where the browser keeps nothing. */
export const tabNote = (name: string): string | null => {
  try {
    return sessionStorage.getItem(`levare.${name}`);
  } catch {
    return null;
  }
};

/** Written before it returns. Where there is no room or no permission nothing happens: it is a convenience only. */
export const setTabNote = (name: string, text: string | null): void => {
  try {
    if (text === null) sessionStorage.removeItem(`levare.${name}`);
    else sessionStorage.setItem(`levare.${name}`, text);
  } catch {
    // Nothing is kept here.
  }
};

/** A tag that no other window has: 64 random bits in hexadecimal. */
export const freshTag = (): string =>
  [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
