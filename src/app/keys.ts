/** The keyboard and the pedal: space plays and stops, Escape stops. */
import type { Session } from './session.ts';

/** Whether the space key has another meaning where the focus is. */
const spaceIsTaken = (target: EventTarget | null): boolean => {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement)
    return target.dataset['types'] === 'space' || target.type === 'file';
  if (target.classList.contains('play')) return false;
  return ['SELECT', 'BUTTON', 'SUMMARY', 'A', 'TEXTAREA'].includes(target.tagName);
};

/** What was written but not left yet is taken as it stands. */
const settle = (target: EventTarget | null): void => {
  if (!(target instanceof HTMLInputElement)) return;
  target.blur();
  target.focus();
};

export const listenToKeys = (session: Session): void => {
  addEventListener('keydown', (event) => {
    session.wake();
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    const still = session.shown.playing === 'still';
    if (event.key === 'Escape' && !still) {
      event.preventDefault();
      session.stop();
      return;
    }
    const typing = event.target instanceof HTMLInputElement && spaceIsTaken(event.target);
    if (event.key !== ' ' || event.repeat || typing || (still && spaceIsTaken(event.target))) return;
    event.preventDefault();
    settle(event.target);
    if (still) session.play(0);
    else session.stop();
  });
  // A button would take the key's release for a click of its own.
  addEventListener('keyup', (event) => {
    if (event.key !== ' ' || !(event.target instanceof HTMLElement)) return;
    if (event.target.classList.contains('play')) event.preventDefault();
  });
  addEventListener('pointerdown', () => session.wake());
};
