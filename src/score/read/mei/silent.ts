/** Parts and bars without any content. */
import { F } from '../../../units/index.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { PartState, World } from './state.ts';

const isSilent = (draft: MeasureDraft | null | undefined): boolean =>
  draft === undefined ||
  draft === null ||
  (draft.notes.length === 0 && !F.isPositive(draft.extent) && !F.isPositive(draft.restExtent));

/** What holds for everyone is written down with one part: it stays when that part goes. */
const handOver = (from: PartState, to: PartState): void =>
  from.drafts.forEach((draft, bar) => {
    const heir = to.drafts[bar];
    if (draft === null || heir === undefined || heir === null) return;
    heir.marks.push(...draft.marks);
    heir.jumps.push(...draft.jumps);
    heir.repeats.push(...draft.repeats);
    heir.endings.push(...draft.endings);
    heir.styles.push(...draft.styles);
    heir.fermatas.push(...draft.fermatas);
  });

/** The parts that have music; those that are only listed are left out and told, unless none would be left. */
export const partsWithMusic = (world: World): readonly PartState[] => {
  const silent = (part: PartState): boolean => world.bars.every((_, bar) => isSilent(part.drafts[bar]));
  const empty = new Set(world.parts.filter(silent));
  const kept = world.parts.filter((part) => !empty.has(part));
  const [heir] = kept;
  if (heir === undefined) return world.parts;
  for (const part of empty) {
    const { id, name } = part.head;
    world.log.say(
      'repair',
      'part-without-music',
      `The list of parts names "${name === '' ? id : name}", but the file holds no music for it. It is left out.`,
    );
    const everywhere = kept.find(({ drafts }) => drafts.length >= part.drafts.length) ?? heir;
    handOver(part, everywhere);
  }
  return kept;
};

/** Tells of parts that lack some of the bars. */
export const tellMissing = (parts: readonly PartState[], world: World): void => {
  for (const { head, drafts } of parts) {
    const missing = world.bars.flatMap(({ number }, bar) => (isSilent(drafts[bar]) ? [number] : []));
    const [first] = missing;
    if (first !== undefined && missing.length < world.bars.length)
      world.log.say(
        'repair',
        'part-lacks-bars',
        `This part has no content in ${missing.length} of the ${world.bars.length} bars, from bar ${first} on; it is silent there.`,
        { part: head.id, bar: first },
      );
  }
};
