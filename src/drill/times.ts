import { secondsAtPosition, type TempoMap } from '../rhythm/tempo.ts';
import type { Beats, Seconds } from '../units/index.ts';

/** Position to time, remembering what was asked: many notes and clicks share a place. */
export const positionTimes = (map: TempoMap): ((at: Beats) => Seconds) => {
  const known = new Map<string, Seconds>();
  return (at) => {
    const key = `${String(at.n)}/${String(at.d)}`;
    const time = known.get(key) ?? secondsAtPosition(map, at);
    known.set(key, time);
    return time;
  };
};
