/**
 * Who may import whom: the one-way rule of the house. A folder may import itself, `units`, and what is named here,
 * directly and not transitively. eslint.config.js turns this table into lint errors.
 */
const core = [
  'units',
  'score',
  'rhythm',
  'lines',
  'click',
  'drill',
  'sound',
  'listen',
  'together',
  'plan',
  'sheet',
  'figure',
];

export const mayImport = {
  units: [],
  score: [],
  rhythm: ['score'],
  lines: ['score', 'rhythm'],
  click: ['rhythm'],
  drill: ['score', 'rhythm', 'click'],
  sound: ['drill'],
  listen: ['drill'],
  together: ['drill', 'listen'],
  plan: ['lines', 'drill', 'together'],
  sheet: ['score', 'drill', 'lines', 'together'],
  figure: ['together', 'plan'],
  desk: core,
  host: ['desk'],
  app: ['desk', 'host/browser'],
  cli: ['desk', 'host/node'],
};

export const folders = Object.keys(mayImport);

/** Core folders run anywhere: no DOM, no Node, no clock, no randomness that is not handed in. */
export const coreFolders = [...core, 'desk'];
