/** Which language the page speaks: the one that was chosen on this device, else the one that the browser asks for. */
import { deviceNote, setDeviceNote } from '../../host/browser/index.ts';
import { isLanguage, preferredLanguage, type Language } from './language.ts';

export const chosenLanguage = (): Language => {
  const noted = deviceNote('language');
  return isLanguage(noted) ? noted : preferredLanguage(navigator.languages);
};

/** Keeps the choice on this device, where it keeps anything. */
export const keepLanguage = (language: Language): void => setDeviceNote('language', language);
