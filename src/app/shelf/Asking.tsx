/** A word that asks before it does what it says. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { Word } from './Fields.tsx';
import { useWords } from '../words/context.ts';

interface Props {
  readonly words: string;
  readonly label?: string;
  readonly question: string;
  /** In place of "Yes, remove". */
  readonly yes?: string;
  readonly onYes: () => void;
}

export const Asking = ({ words, label, question, yes, onYes }: Props) => {
  const { shelf } = useWords();
  const [asks, setAsks] = useState(false);
  const no = useRef<HTMLButtonElement>(null);
  // The harmless answer is at hand for those who use keys.
  useEffect(() => {
    if (asks) no.current?.focus();
  }, [asks]);
  if (!asks)
    return <Word words={words} {...(label === undefined ? {} : { label })} onPress={() => setAsks(true)} />;
  return (
    <span class="asking" role="group" aria-label={question}>
      {question}{' '}
      <button type="button" class="do" ref={no} onClick={() => setAsks(false)}>
        {shelf.keep}
      </button>{' '}
      <Word
        words={yes ?? shelf.reallyRemove}
        onPress={() => {
          setAsks(false);
          onYes();
        }}
      />
    </span>
  );
};
