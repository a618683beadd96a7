/**
 * Bars without metre, for the engraver: each has an unprinted metre of its own length. Verovio 6.3.0 divides by zero where
 * a metre is followed by MusicXML's `senza-misura`; `print-object` is MusicXML 4.0, element `time`.
 */
import type { Bar } from '../score/model.ts';
import { F, type Beats } from '../units/index.ts';

/** Smallest unit of a metre that is written; a length that it does not divide is rounded up, which is seen nowhere. */
const smallest = 64;

/** A length as a metre: 5/4 as 5 over 4, 5/12 as 27 over 64. */
const asMetre = (length: Beats): { readonly beats: bigint; readonly unit: number } => {
  let unit = 1;
  while (unit < smallest && F.mul(length, F.fraction(unit)).d !== 1n) unit *= 2;
  const exact = F.mul(length, F.fraction(unit));
  const beats = exact.d === 1n ? exact.n : F.floor(exact) + 1n;
  return { beats, unit };
};

const unprinted = (length: Beats): string => {
  const { beats, unit } = asMetre(length);
  return `<time print-object="no"><beats>${beats}</beats><beat-type>${unit}</beat-type></time>`;
};

const senzaMisura = /<time>\s*<senza-misura\/>\s*<\/time>/;

/** MusicXML that our writer made of these bars, with a metre in every bar. */
export const withMetres = (xml: string, bars: readonly Bar[]): string => {
  const free = ({ metre }: Bar): boolean => metre.components.length === 0;
  if (!bars.some(free)) return xml;
  const [head = '', ...measures] = xml.split(/(?=<measure )/);
  const metred = measures.map((measure, i) => {
    const bar = bars[i % bars.length];
    const before = bars[(i % bars.length) - 1];
    if (bar === undefined || !free(bar)) return measure;
    const time = unprinted(bar.length);
    if (senzaMisura.test(measure)) return measure.replace(senzaMisura, time);
    // Said once by our writer: a bar of another length says its own.
    const same = before !== undefined && F.equal(before.length, bar.length);
    return same ? measure : measure.replace('>', `><attributes>${time}</attributes>`);
  });
  return [head, ...metred].join('');
};
