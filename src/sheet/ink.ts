/**
 * What an engraved picture says through a style sheet, said by attributes, so that every program draws it alike; boxes
 * and ids that nobody needs are left out.
 */
import { pencilColour } from '../score/write/musicxml/notations.ts';
import { pencil } from './pencil.ts';
import { ownLetters, ownSign } from './sheetScore.ts';
import { allOf, figure, isOf, numberOf, type Shape } from './svg.ts';

/** Black, and the grey of notes that are there for orientation: contrast with white 3.5 to 1, WCAG 2.2 formula. */
const inks = { black: '#000', grey: '#888' } as const;

/** Text styles of the engraver's own style sheet, by class. */
const bold = ['ending', 'fing', 'reh', 'tempo'];
const italic = ['dir', 'dynam'];

const stroked = new Set(['path', 'polygon', 'polyline', 'ellipse', 'rect']);

export interface InkOptions {
  /** Ids that stay. */
  readonly ids: ReadonlySet<string>;
  /** Ids of notes that are grey. */
  readonly grey: ReadonlySet<string>;
  /** Distance of two staff lines. */
  readonly space: number;
}

const isBox = (one: Shape): boolean => isOf(one, 'bounding-box');

/** A beam, chord or tuplet is grey if all of its notes are. */
const allGrey = (one: Shape, grey: ReadonlySet<string>): boolean => {
  let seen = false;
  const walk = (inner: Shape): boolean => {
    if (isOf(inner, 'note')) {
      seen = true;
      return grey.has(inner.attributes['id'] ?? '');
    }
    return inner.children.every(walk);
  };
  return walk(one) && seen;
};

const grouping = ['note', 'chord', 'beam', 'tuplet', 'graceGrp'];

/** Whether these are words that the players wrote. */
const isOwn = (one: Shape): boolean =>
  ['dir', 'tempo'].some((word) => isOf(one, word)) &&
  allOf(one, ({ text }) => text.startsWith(ownSign)).length > 0;

/** Signs on notes that the players wrote come from the engraver in the colour of a pencil. */
const isOwnSign = (one: Shape): boolean =>
  one.name === 'g' && one.attributes['color'] === pencilColour && !isOf(one, 'bounding-box');

/** Words and signs of the players, in pencil; their letters of dynamics bold, as such letters are. */
const handwritten = (one: Shape): Shape => {
  const letters = allOf(one, ({ text }) => text.startsWith(ownLetters)).length > 0;
  const bare = (inner: Shape): Shape => {
    const attributes = Object.entries(inner.attributes).filter(([name]) => !['color', 'fill'].includes(name));
    return {
      ...inner,
      attributes: Object.fromEntries(attributes),
      text: inner.text.replaceAll(ownSign, ''),
      children: inner.children.map(bare),
    };
  };
  const { class: said = '', ...attributes } = bare(one).attributes;
  const italics = isOf(one, 'dir') ? { 'font-style': 'italic' } : {};
  const bolds = letters || isOf(one, 'tempo') ? { 'font-weight': 'bold' } : {};
  const own = { ...attributes, class: 'own', fill: pencil, ...italics, ...bolds };
  return { ...bare(one), attributes: said.includes('bounding-box') ? one.attributes : own };
};

/** How far a breath sign of the players is moved to the left and up, in staff spaces; by eye. */
const breathing = { left: 0.35, up: 1.1 } as const;

/** The engraver puts a breath close to the note that follows, whose dots and accents it then meets. */
const clearOfNext = (one: Shape, space: number): Shape => {
  const place = (_: string, x: string, y: string): string =>
    `translate(${figure(Number(x) - breathing.left * space)}, ${figure(Number(y) - breathing.up * space)})`;
  const children = one.children.map((inner) => {
    const { transform } = inner.attributes;
    return inner.name === 'use' && transform !== undefined
      ? {
          ...inner,
          attributes: {
            ...inner.attributes,
            transform: transform.replace(/translate\(([-\d.]+)[ ,]+([-\d.]+)\)/, place),
          },
        }
      : inner;
  });
  return { ...one, children };
};

/** The picture in plain ink; what the players wrote in pencil. */
export const inked = (root: Shape, { ids, grey, space }: InkOptions): Shape => {
  const draw = (drawn: Shape, ink: string): Shape => {
    const own = isOwnSign(drawn);
    const placed = own && isOf(drawn, 'breath') ? clearOfNext(drawn, space) : drawn;
    const one = own || isOwn(drawn) ? handwritten(placed) : drawn;
    const greyNow = ink === inks.black && grouping.some((word) => isOf(one, word)) && allGrey(one, grey);
    const colour = greyNow ? inks.grey : ink;
    const attributes: Record<string, string> = {};
    for (const [name, value] of Object.entries(one.attributes))
      if (name !== 'xml:lang' && (name !== 'id' || ids.has(value))) attributes[name] = value;
    if (greyNow) attributes['fill'] = colour;
    if (stroked.has(one.name) && numberOf(one, 'stroke-width') > 0) attributes['stroke'] = colour;
    if (one.name === 'g' && bold.some((word) => isOf(one, word))) attributes['font-weight'] = 'bold';
    if (one.name === 'g' && italic.some((word) => isOf(one, word))) attributes['font-style'] = 'italic';
    return {
      ...one,
      attributes,
      children: one.children.filter((inner) => !isBox(inner)).map((inner) => draw(inner, colour)),
    };
  };
  return draw(root, inks.black);
};
