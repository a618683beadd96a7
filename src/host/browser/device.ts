/** Small choices that this device remembers in all windows (localStorage), read before anything is drawn. */

/** Null where nothing was noted, and where the browser keeps nothing. */
export const deviceNote = (name: string): string | null => {
  try {
    return localStorage.getItem(`levare.${name}`);
  } catch {
    return null;
  }
};

/** Where there is no room or no permission nothing happens: the choice then holds for this window. */
export const setDeviceNote = (name: string, text: string): void => {
  try {
    localStorage.setItem(`levare.${name}`, text);
  } catch {
    // Nothing is kept here.
  }
};
