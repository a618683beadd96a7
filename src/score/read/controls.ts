/** Control characters in text: what no text holds, and what a stray byte leaves in an otherwise good file. */
import { countText, problem, type Problem } from '../../units/index.ts';

/** All below the space but tab, line ends and form feed, and DEL. */
const control = /[\u0000-\u0008\u000b\u000e-\u001f\u007f]/;
const controls = new RegExp(control.source, 'g');

/** More than a few, and more than one in a hundred, make it no text at all. */
const few = 10;
const most = 0.01;
/** Characters that are looked at. */
const looked = 100_000;

/** How much of a text's beginning is control characters. */
export const isBinary = (text: string): boolean => {
  const head = text.slice(0, looked);
  return (head.match(controls)?.length ?? 0) > Math.max(few, most * head.length);
};

export const hasControls = (text: string): boolean => control.test(text);

/** The text without them, with a repair that tells how many there were and in which line the first stood. */
export const withoutControls = (
  text: string,
): { readonly text: string; readonly problems: readonly Problem[] } => {
  const first = text.search(control);
  if (first < 0) return { text, problems: [] };
  const line = text.slice(0, first).split(/\r\n|\r|\n/).length;
  const rest = text.replace(controls, '');
  const count = text.length - rest.length;
  const told = countText(
    count,
    'character that is no text (such as a NUL byte) stands in the file; it is passed over.',
    'characters that are no text (such as NUL bytes) stand in the file; they are passed over.',
  );
  return { text: rest, problems: [problem('repair', 'not-text', told, { line })] };
};
