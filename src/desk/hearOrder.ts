/** Whether the recordings were given in the right order. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { betterOrder, doubtedFit, type TakeFile } from './hearAssign.ts';
import type { Heard } from './hearReading.ts';

/** Hears a recording once more; then tells, for each part, the share of its notes that are found. Errors pass through. */
export type FitTo = (file: TakeFile) => Promise<Result<(part: string) => number>>;

/** Says so where recordings that fit their part badly fit another one clearly better. Error: `players-swapped`. */
export const judgeOrder = async (
  players: readonly Heard[],
  parts: WorkedDrill['parts'],
  fitTo: FitTo,
): Promise<Result<null>> => {
  const doubted = players.filter(({ heard }) => heard.fit < doubtedFit);
  const settled = players.filter((player) => !doubted.includes(player)).map(({ assigned }) => assigned.part);
  const open = parts.filter((part) => !settled.includes(part));
  if (doubted.length === 0 || open.length < 2) return ok(null);
  const fits: (readonly number[])[] = [];
  for (const { assigned, heard } of doubted) {
    const fit = await fitTo(assigned.file);
    if (!fit.ok) return fit;
    fits.push(open.map((part) => (part === assigned.part ? heard.fit : fit.value(part.id))));
  }
  const given = doubted.map(({ assigned }) => open.indexOf(assigned.part));
  const better = betterOrder(fits, given);
  if (better === null) return ok(null);
  const inHundred = (share: number | undefined): number => Math.round(100 * (share ?? 0));
  const whose = (player: Heard): WorkedDrill['parts'][number] =>
    open[better[doubted.indexOf(player)] ?? -1] ?? player.assigned.part;
  const told = doubted.flatMap((player, i) => {
    const [now, { part, file }] = [whose(player), player.assigned];
    if (now === part) return [];
    const fit = inHundred(fits[i]?.[better[i] ?? -1]);
    return `${file.name} does not sound like ${part.name} but like ${now.name} (${fit} of each 100 notes found in order, against ${inHundred(player.heard.fit)})`;
  });
  const order = players
    .map((player) => ({ id: whose(player).id, name: player.assigned.file.name }))
    .sort((a, b) => a.id.localeCompare(b.id, 'en', { numeric: true }));
  return fail(
    'players-swapped',
    `${told.join('; ')}. Say whose each is: ${order.map(({ id, name }) => `${id}=${name}`).join(' ')}`,
  );
};
