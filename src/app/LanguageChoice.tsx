/** The language of the page, each in its own name. */
import { useSpeech } from './words/context.ts';
import { languageNames, languages } from './words/index.ts';

export const LanguageChoice = () => {
  const { language, words, choose } = useSpeech();
  return (
    <p class="aside languages" role="group" aria-label={words.page.language}>
      {languages.map((one) => (
        <button
          key={one}
          type="button"
          class="do"
          lang={one}
          aria-pressed={one === language}
          onClick={() => choose(one)}
        >
          {languageNames[one]}
        </button>
      ))}
    </p>
  );
};
