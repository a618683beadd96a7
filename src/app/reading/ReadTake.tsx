/** The way from a take to what happened in it. */
import type { Take } from '../../desk/index.ts';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import type { HeardTakes } from './heardTakes.ts';

interface Props {
  readonly heard: HeardTakes;
  readonly take: Take;
  readonly name: string;
}

export const ReadTake = ({ heard, take, name }: Props) => {
  const { reading } = useWords();
  return (
    <Word words={reading.what} label={reading.whatLabel(name)} onPress={() => void heard.open(take, name)} />
  );
};
