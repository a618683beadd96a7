/** docs/hearing.md as a page: the one text that stands there, not written a second time. */
import text from '../../docs/hearing.md?raw';
import { plainBlocks, plainRuns } from './plainText.ts';

const element = (name: string, content: string): HTMLElement => {
  const made = document.createElement(name);
  for (const { text: run, bold } of plainRuns(content)) {
    const strong = document.createElement('strong');
    strong.textContent = run;
    made.append(bold ? strong : run);
  }
  return made;
};

const page = document.getElementById('text');
let list: HTMLElement | null = null;
for (const { kind, content } of plainBlocks(text)) {
  if (kind !== 'item') list = null;
  else if (list === null) {
    list = document.createElement('ul');
    page?.append(list);
  }
  const name = { heading: 'h1', item: 'li', paragraph: 'p' }[kind];
  (list ?? page)?.append(element(name, content));
}
const back = document.createElement('a');
back.href = './index.html';
back.textContent = 'Back to the music';
page?.append(back);
