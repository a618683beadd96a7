/** Articulations, ornaments and note heads: MEI's names and the model's, which are MusicXML's. */
import { lookUp } from '../../../units/index.ts';
import type { BuildingMarks } from './state.ts';

/** MEI 5, data.ARTICULATION, from memory, to the articulations of MusicXML 4.0. */
const articulations: Readonly<Record<string, readonly string[]>> = {
  acc: ['accent'],
  'acc-soft': ['soft-accent'],
  stacc: ['staccato'],
  ten: ['tenuto'],
  stacciss: ['staccatissimo'],
  stroke: ['staccatissimo'],
  marc: ['strong-accent'],
  'marc-stacc': ['strong-accent', 'staccato'],
  'ten-stacc': ['detached-legato'],
  spicc: ['spiccato'],
  stress: ['stress'],
  unstress: ['unstress'],
  doit: ['doit'],
  scoop: ['scoop'],
  plop: ['plop'],
  fall: ['falloff'],
};

/** The same, to the technical marks of MusicXML 4.0. */
const technical: Readonly<Record<string, string>> = {
  dnbow: 'down-bow',
  upbow: 'up-bow',
  harm: 'harmonic',
  snap: 'snap-pizzicato',
  fingernail: 'fingernails',
  open: 'open-string',
  stop: 'stopped',
  dbltongue: 'double-tongue',
  trpltongue: 'triple-tongue',
  heel: 'heel',
  toe: 'toe',
  tap: 'tap',
  flip: 'flip',
  smear: 'smear',
  bend: 'bend',
};

/** Adds what a list of MEI articulations says; names that the model does not have stay as they are. */
export const addArticulations = (names: readonly string[], marks: BuildingMarks): void => {
  for (const name of names) {
    const technique = lookUp(technical, name);
    if (technique !== undefined) {
      if (!marks.technical.some((one) => one.name === technique))
        marks.technical.push({ name: technique, text: '' });
      continue;
    }
    for (const mark of lookUp(articulations, name) ?? [name])
      if (!marks.articulations.includes(mark)) marks.articulations.push(mark);
  }
};

/** MEI 5, data.HEADSHAPE, from memory; empty for the usual heads. */
const heads: Readonly<Record<string, string>> = {
  quarter: '',
  half: '',
  whole: '',
  '+': 'cross',
  circle: 'circled',
  diamond: 'diamond',
  isotriangle: 'triangle',
  rectangle: 'rectangle',
  slash: 'slash',
  square: 'square',
  x: 'x',
};

export const headOf = (shape: string): string => lookUp(heads, shape) ?? shape;

/** The shape of a fermata in the model. */
export const fermataShape = (shape: string): string =>
  shape === 'angular' ? 'angled' : shape === 'square' ? 'square' : 'normal';

/** Mordents of MEI 3 are "norm" or "inv", later ones "lower" or "upper"; the plain sign is the lower one. */
export const mordentName = (form: string): string =>
  form === 'upper' || form === 'inv' ? 'inverted-mordent' : 'mordent';

/** Turns of MEI 3 are "norm" or "inv", later ones "upper" or "lower"; the plain sign begins above. */
export const turnName = (form: string, delayed: boolean): string => {
  const inverted = form === 'lower' || form === 'inv';
  return `${delayed ? 'delayed-' : ''}${inverted ? 'inverted-' : ''}turn`;
};
