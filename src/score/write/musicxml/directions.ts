import { type Place } from '../../../units/index.ts';
import type { Direction } from '../../model.ts';
import type { Context } from './context.ts';
import { lineTypes, pedalTypes, wedgeTypes } from './names.ts';
import { levelOf, pencilColour, writeDynamics } from './notations.ts';

/** One direction around what `content` writes into it. `staff` null: not said. */
export const writeDirection = (
  context: Context,
  direction: { readonly above: boolean; readonly staff: number | null },
  content: () => void,
  sound: Readonly<Record<string, string>> | null = null,
): void => {
  const { out } = context;
  out.within('direction', { placement: direction.above ? 'above' : 'below' }, () => {
    content();
    if (direction.staff !== null) out.leaf('staff', direction.staff);
    if (sound !== null) out.empty('sound', sound);
  });
};

/** "up", "down", "stop" or "continue", and the size where the value ends with one: "down 15". */
const octaveShift = (value: string): Readonly<Record<string, string>> | null => {
  const match = /^(up|down|stop|continue)(?: ([1-9]\d{0,3}))?$/.exec(value);
  const [, type, size] = match ?? [];
  if (type === undefined) return null;
  return size === undefined ? { type } : { type, size };
};

/** The attributes of a line's element; null where MusicXML has no such line. */
const lineAttributes = ({ kind, value }: Direction): Readonly<Record<string, string>> | null => {
  switch (kind) {
    case 'wedge':
      return wedgeTypes.has(value) ? { type: value } : null;
    case 'pedal':
      return pedalTypes.has(value) ? { type: value } : null;
    case 'dashes':
      return lineTypes.has(value) ? { type: value } : null;
    case 'bracket':
      return lineTypes.has(value) ? { type: value, 'line-end': 'none' } : null;
    case 'octaveShift':
      return octaveShift(value);
    case 'dynamics':
    case 'words':
    case 'other':
      return null;
  }
};

/** Children of direction-type that hold nothing: the name is all there is. */
const emptySigns = new Set(['damp', 'damp-all', 'eyeglasses']);

/** Children of direction-type of which the model keeps the name only: it is kept, but not printed as if it were text. */
const richSigns = new Set([
  'symbol',
  'harp-pedals',
  'string-mute',
  'scordatura',
  'image',
  'principal-voice',
  'percussion',
  'accordion-registration',
  'staff-divide',
]);

/** Writes one of a part's directions, without its position: the caller has moved there. */
export const writePartDirection = (
  context: Context,
  direction: Direction,
  staves: number,
  place: Place,
): void => {
  const { out } = context;
  const value = context.clean(direction.value, 'A direction', place);
  const where = {
    above: direction.above,
    staff: staves > 1 || direction.staff > 1 ? direction.staff : null,
  };
  const line = lineAttributes(direction);
  const colour = direction.own === true ? { color: pencilColour } : {};
  writeDirection(context, where, () =>
    out.within('direction-type', {}, () => {
      const name = direction.kind === 'octaveShift' ? 'octave-shift' : direction.kind;
      // A pedal has no number of its own in most programs; the first is the usual one and need not be said.
      const number = direction.number === 1 ? undefined : levelOf(direction.number);
      if (line !== null) out.empty(name, { type: line['type'], number, ...line });
      else if (direction.kind === 'words') out.leaf('words', value, colour);
      else if (direction.kind === 'dynamics') writeDynamics(context, [value], colour);
      else if (emptySigns.has(value)) out.empty(value);
      else {
        out.leaf('other-direction', value, { 'print-object': richSigns.has(value) ? 'no' : undefined });
        if (direction.kind !== 'other')
          context.report(
            'note',
            'direction-as-text',
            `"${value}" is no ${direction.kind} that MusicXML knows: written as text.`,
            place,
          );
      }
    }),
  );
};
