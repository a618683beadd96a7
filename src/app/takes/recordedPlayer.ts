/** The loudspeaker for those who record: where a take is wanted, nothing sounds before the recording runs. */
import type { LiveDrill } from '../../desk/index.ts';
import type { Material, Player } from '../../host/browser/index.ts';

export interface Recordist {
  /** Whether the next start is to be recorded. */
  readonly wanted: () => boolean;
  /** Begins to record; false where that cannot be. */
  readonly begin: () => Promise<boolean>;
  /** The player's stop was asked for. */
  readonly stopping: () => void;
  /** The drill that was asked for last. */
  readonly latest: () => LiveDrill | null;
  /** Nothing sounds after all. */
  readonly ended: () => void;
}

export interface RecordedPlayer {
  readonly player: Player;
  /** Which drill it is that sounds; null where it is not known any more. */
  readonly drillOf: (material: Material) => LiveDrill | null;
}

export const recordedPlayer = (player: Player, recordist: Recordist): RecordedPlayer => {
  const drills = new WeakMap<Material['clicks'], LiveDrill>();
  let starts = 0;
  let preparing = false;
  const note = ({ clicks }: Material): void => {
    const drill = recordist.latest();
    if (drill?.sound === clicks) drills.set(clicks, drill);
  };
  const start = async (wait: number): Promise<void> => {
    const own = (starts += 1);
    preparing = true;
    const begun = await recordist.begin();
    if (own !== starts) return;
    preparing = false;
    if (begun) player.play(wait);
    else recordist.ended();
  };
  return {
    drillOf: ({ clicks }) => drills.get(clicks) ?? null,
    player: {
      ...player,
      load: (material) => {
        note(material);
        player.load(material);
      },
      then: (material, at, from) => {
        note(material);
        player.then(material, at, from);
      },
      play: (wait) => {
        player.wake();
        if (recordist.wanted()) void start(wait);
        else player.play(wait);
      },
      stop: () => {
        recordist.stopping();
        if (!preparing) {
          player.stop();
          return;
        }
        starts += 1;
        preparing = false;
        recordist.ended();
      },
    },
  };
};
