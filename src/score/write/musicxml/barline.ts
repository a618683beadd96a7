import type { Bar } from '../../model.ts';
import { type Place } from '../../../units/index.ts';
import type { Context } from './context.ts';

const styles: Readonly<Record<Bar['barline'], string | null>> = {
  regular: null,
  double: 'light-light',
  final: 'light-heavy',
  dashed: 'dashed',
  dotted: 'dotted',
  none: 'none',
  // Heavy, short and ticked bar lines are one kind in the model.
  other: 'heavy',
};

/** Type ending-number: "1" or "1, 2". */
const endingNumber = ({ numbers }: NonNullable<Bar['ending']>): string => {
  const fit = numbers.filter((number) => Number.isInteger(number) && number > 0);
  return fit.join(', ');
};

/** The text of an ending belongs in the element only where it differs from its numbers. */
const endingText = (context: Context, ending: NonNullable<Bar['ending']>, place: Place): string => {
  const text = context.clean(ending.text, 'The text of an ending', place);
  return text === ending.numbers.join(', ') ? '' : text;
};

/** The bar line at the left edge, where there is something to say: a bracket that begins, a repeat that begins. */
export const writeLeftBarline = (context: Context, bar: Bar, place: Place): void => {
  const { out } = context;
  const { ending } = bar;
  if (!bar.repeatStart && ending?.begins !== true) return;
  out.within('barline', { location: 'left' }, () => {
    if (bar.repeatStart) out.leaf('bar-style', 'heavy-light');
    if (ending?.begins === true)
      out.leaf('ending', endingText(context, ending, place), {
        number: endingNumber(ending),
        type: 'start',
      });
    if (bar.repeatStart) out.empty('repeat', { direction: 'forward' });
  });
};

/** The bar line at the right edge: its style, a fermata, a bracket that ends, a repeat that ends. */
export const writeRightBarline = ({ out }: Context, bar: Bar): void => {
  const style = styles[bar.barline];
  const closing = bar.ending?.ends ?? null;
  if (style === null && closing === null && bar.repeatEnd === 0 && !bar.fermata) return;
  out.within('barline', { location: 'right' }, () => {
    if (style !== null) out.leaf('bar-style', style);
    if (bar.fermata) out.empty('fermata');
    if (bar.ending !== null && closing !== null)
      out.empty('ending', { number: endingNumber(bar.ending), type: closing });
    if (bar.repeatEnd > 0)
      out.empty('repeat', {
        direction: 'backward',
        // Twice is what a repeat sign means by itself.
        times: bar.repeatEnd === 2 ? undefined : bar.repeatEnd,
        'after-jump': bar.repeatAfterJump ? 'yes' : undefined,
      });
  });
};
