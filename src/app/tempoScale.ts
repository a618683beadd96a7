/** A little slower, a little faster: the steps in which tempi are marked. */
import type { LiveDrill } from '../desk/index.ts';

/**
 * The marks of the traditional scale, steps of 2, 3, 4, 6 and 8 so that each is about a twentieth; common practice, from
 * memory.
 */
const scale = [
  ...[20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 32, 34, 36, 38],
  ...[
    40, 42, 44, 46, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112,
    116, 120,
  ],
  ...[126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208, 216, 224, 232, 240, 252, 264, 276, 288],
];

/** The next mark of the scale below (-1) or above (1) a number of beats a minute; at its ends the number itself. */
export const nextMark = (perMinute: number, by: 1 | -1): number => {
  // What is printed is rounded: a mark that is that near is the mark itself.
  const near = 0.05;
  const found =
    by === 1
      ? scale.find((mark) => mark > perMinute + near)
      : scale.findLast((mark) => mark < perMinute - near);
  return found ?? perMinute;
};

/** Tempo steps as they are worked out, and as they are written. */
interface Pace {
  readonly summary: Pick<LiveDrill['summary'], 'tempi'>;
  readonly drill: Pick<LiveDrill['drill'], 'tempo'>;
}

/** Tempo steps each one mark slower or faster; written "69", "1/4.=60". */
const steppedPace = ({ summary, drill }: Pace, by: 1 | -1): Pace => {
  const tempi = summary.tempi.map((step) => ({ ...step, perMinute: nextMark(step.perMinute, by) }));
  return {
    summary: { tempi },
    drill: {
      tempo: tempi.map(({ unit, perMinute }, i) =>
        // Where a step names its unit, or the score's own tempo is taken, the unit is written out.
        drill.tempo[i]?.includes('=') === true || drill.tempo.length === 0
          ? `${unit}=${perMinute}`
          : String(perMinute),
      ),
    },
  };
};

const textOf = ({ drill }: Pace): string => drill.tempo.join(' ');

/** "Slower" and "faster", touch after touch. */
export class Pacing {
  #last: Pace | null = null;

  /** What the margin is to say next. `asked`: what it says; `working`: whether that is not worked out yet: two touches are two marks all the same. */
  next(drill: Pace, by: 1 | -1, asked: string, working: boolean): string {
    const last = this.#last;
    this.#last = steppedPace(working && last !== null && textOf(last) === asked ? last : drill, by);
    return textOf(this.#last);
  }
}
