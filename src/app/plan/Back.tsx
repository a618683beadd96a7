/** The way back to the music, which has the focus when a page of its own opens. */
import { useEffect, useRef } from 'preact/hooks';
import { useWords } from '../words/context.ts';

export const Back = () => {
  const { shelf } = useWords();
  const back = useRef<HTMLButtonElement>(null);
  useEffect(() => back.current?.focus(), []);
  return (
    <p>
      <button type="button" class="do" ref={back} onClick={() => (location.hash = '')}>
        {shelf.back}
      </button>
    </p>
  );
};
