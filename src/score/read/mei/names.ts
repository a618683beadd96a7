/** Which elements of a layer are events, and which are passed over. */
import type { XmlElement } from '../xml.ts';

/** Layout and analysis, of which docs/formats/mei.md says once for all that they are not kept. */
export const passedOver = new Set([
  'pb',
  'sb',
  'cb',
  'lb',
  'gb',
  'colLayout',
  'pad',
  'custos',
  'stem',
  'dot',
  'phantom',
]);
const eventNames = new Set([
  'note',
  'chord',
  'rest',
  'space',
  'beam',
  'tuplet',
  'bTrem',
  'fTrem',
  'graceGrp',
  'tabGrp',
  'mRest',
]);

export const holdsEvents = (element: XmlElement): boolean =>
  element.children.some((child) => eventNames.has(child.name) || holdsEvents(child));
