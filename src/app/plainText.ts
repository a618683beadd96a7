/** The little of Markdown that our own texts use: a heading, paragraphs, lists and bold words. */

export interface Block {
  readonly kind: 'heading' | 'item' | 'paragraph';
  readonly content: string;
}

export const plainBlocks = (text: string): readonly Block[] =>
  text
    .split(/\n{2,}|\n(?=- )/)
    .map((block) => block.trim().replace(/\s*\n\s*/g, ' '))
    .filter((block) => block !== '')
    .map((block): Block => {
      if (block.startsWith('# ')) return { kind: 'heading', content: block.slice(2) };
      if (block.startsWith('- ')) return { kind: 'item', content: block.slice(2) };
      return { kind: 'paragraph', content: block };
    });

/** Words, bold ones apart. */
export const plainRuns = (text: string): readonly { readonly text: string; readonly bold: boolean }[] =>
  text
    .split('**')
    .map((run, i) => ({ text: run, bold: i % 2 === 1 }))
    .filter((run) => run.text !== '');
