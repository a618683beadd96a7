/** docs/hearing.md as a page, in the language of the page: the texts that stand there, not written a second time. */
import german from '../../docs/hearing.de.md?raw';
import english from '../../docs/hearing.md?raw';
import { plainBlocks, plainRuns } from './plainText.ts';
import { chosenLanguage } from './words/chosen.ts';
import { speechIn } from './words/index.ts';

const element = (name: string, content: string): HTMLElement => {
  const made = document.createElement(name);
  for (const { text: run, bold } of plainRuns(content)) {
    const strong = document.createElement('strong');
    strong.textContent = run;
    made.append(bold ? strong : run);
  }
  return made;
};

const { language, words } = speechIn(chosenLanguage());
document.documentElement.lang = language;
const page = document.getElementById('text');
let list: HTMLElement | null = null;
for (const { kind, content } of plainBlocks({ en: english, de: german }[language])) {
  if (kind !== 'item') list = null;
  else if (list === null) {
    list = document.createElement('ul');
    page?.append(list);
  }
  if (kind === 'heading') document.title = `${content} – Levare`;
  const name = { heading: 'h1', item: 'li', paragraph: 'p' }[kind];
  (list ?? page)?.append(element(name, content));
}
const back = document.createElement('a');
back.href = './index.html';
back.textContent = words.shelf.back;
page?.append(back);
