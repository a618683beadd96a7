/** A mark's element: what is drawn of it, what it says, and by what it is found. */
import { shape, type Shape } from './svg.ts';

export interface MarkData {
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  readonly desc: string;
  /** Part ids, apart by blanks; empty: all. */
  readonly parts: string;
  readonly note?: string;
}

/** `data-kind`, `data-part` and `data-note` let an app show and hide by player and kind; title and desc are the text equivalent (SVG 1.1, 5.4). */
export const markShape = (
  { id, kind, title, desc, parts, note }: MarkData,
  children: readonly Shape[],
  more: Readonly<Record<string, string>> = {},
): Shape =>
  shape(
    'g',
    {
      id,
      class: `reading ${kind}`,
      role: 'img',
      'data-kind': kind,
      'data-part': parts,
      ...(note === undefined ? {} : { 'data-note': note }),
      ...more,
    },
    [shape('title', {}, title), shape('desc', {}, desc), ...children],
  );
