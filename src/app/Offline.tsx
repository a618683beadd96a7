/** One line that says whether the app opens without a network. */
import { useEffect, useState } from 'preact/hooks';
import { keepOffline, type Kept } from '../host/browser/index.ts';
import { keptWords } from './wording.ts';

/** Beside index.html in the built app; while developing there is none. */
const script = './offline.js';

export const Offline = () => {
  const [kept, setKept] = useState<Kept>('keeping');
  useEffect(() => void keepOffline(script, setKept), []);
  return (
    <p class="aside kept" data-kept={kept}>
      {keptWords[kept]}
    </p>
  );
};
