/** The instruments of the bench: General MIDI program, sounding range, family, usual ensemble level. */
export const instruments = {
  recorder: { program: 74, low: 60, high: 91, family: 'wind', db: -3 },
  flute: { program: 73, low: 60, high: 91, family: 'wind', db: 0 },
  oboe: { program: 68, low: 58, high: 88, family: 'wind', db: 0 },
  clarinet: { program: 71, low: 50, high: 86, family: 'wind', db: 0 },
  violin: { program: 40, low: 55, high: 93, family: 'string', db: 0 },
  viola: { program: 41, low: 48, high: 84, family: 'string', db: 0 },
  cello: { program: 42, low: 36, high: 74, family: 'string', db: 0 },
};
