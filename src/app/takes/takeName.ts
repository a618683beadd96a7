/** What a take is called where its players gave it no name. */
import { soundsOf, type Take } from '../../desk/index.ts';
import type { Words } from '../words/index.ts';

/** The time at which it was begun; with the file's name where it came from elsewhere: several may have come at once. */
export const takeName = (take: Take, { takes }: Words): string => {
  const { name, begun, ended } = take;
  if (name !== '') return name;
  const when = begun === '' ? takes.noTime : takes.begun(new Date(begun));
  const files = soundsOf(take).flatMap(([, sound]) => (sound.name === '' ? [] : [sound.name]));
  const [first] = files;
  return ended === 'brought' && first !== undefined ? takes.file(first, files.length - 1, when) : when;
};
