/** One line that says whether the app opens without a network. */
import { useEffect, useState } from 'preact/hooks';
import { keepOffline, type Kept } from '../host/browser/index.ts';
import { useWords } from './words/context.ts';

/** Beside index.html in the built app; while developing there is none. */
const script = './offline.js';

export const Offline = () => {
  const { margin } = useWords();
  const [kept, setKept] = useState<Kept>('keeping');
  useEffect(() => void keepOffline(script, setKept), []);
  return (
    <p class="aside kept" data-kept={kept}>
      {margin.kept[kept]}
    </p>
  );
};
