/** Ticks fill with ink as their clicks pass. Nothing else moves, and nothing is drawn that was not there before. */
import type { Session } from './session.ts';

/** Class of a tick whose click has sounded in this repetition. */
const inked = 'inked';

/** Watches what is heard and inks the ticks, once a picture of the screen; comes late without harm when the page hangs. */
export const inkTicks = (session: Session, root: HTMLElement): (() => void) => {
  let next = 0;
  let rep = 0;
  let last: unknown = null;
  const clear = (): void => {
    for (const tick of root.querySelectorAll(`.${inked}`)) tick.classList.remove(inked);
  };
  const look = (): void => {
    const heard = session.playback.heard();
    const { drill, playing } = session.shown;
    if (playing === 'still') {
      clear();
      next = 0;
      rep = 0;
      return;
    }
    requestAnimationFrame(look);
    if (heard === null || drill === null) return;
    // Another drill has taken over, with a page of its own.
    if (drill !== last) [next, rep, last] = [0, 0, drill];
    for (
      let click = drill.clicks[next];
      click !== undefined && click.sample <= heard;
      click = drill.clicks[next]
    ) {
      if (click.rep !== rep) clear();
      rep = click.rep;
      const id = drill.ticks[next] ?? null;
      if (id !== null) root.querySelector(`#${CSS.escape(id)}`)?.classList.add(inked);
      next += 1;
    }
  };
  return look;
};
