/** The keyboard and the pedal: space plays, and stops wherever the focus is; Escape stops; Enter is done with a field. */
import type { Session } from './session.ts';

/**
 * On the stand Enter presses the words, and the space key, which a pedal may send, plays: what was touched there last would be done once
 * more by the next step on the pedal.
 */
const onStand = (target: HTMLElement): boolean => target.closest('.on-stand') !== null;

/** Whether the space key has another meaning where the focus is. */
const spaceIsTaken = (target: EventTarget | null): boolean => {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement)
    return target.dataset['types'] === 'space' || target.type === 'file';
  if (['play', 'bar', 'beat', 'note-place'].some((name) => target.classList.contains(name))) return false;
  return ['SELECT', 'BUTTON', 'SUMMARY', 'A', 'TEXTAREA'].includes(target.tagName) && !onStand(target);
};

/** On the shelf, beside a reading, in the plan and in the journal there is nothing to play. */
const silent = (): boolean => ['#shelf', '#reading', '#plan', '#journal'].includes(location.hash);

/** What was written but not left yet is taken as it stands. */
const settle = (target: EventTarget | null): void => {
  if (!(target instanceof HTMLInputElement)) return;
  target.blur();
  target.focus();
};

/** Ctrl+Z, and on again Ctrl+Shift+Z or Ctrl+Y; while one writes, what was written is the browser's to take back. */
const undoes = ({ key, ctrlKey, metaKey, altKey, target, defaultPrevented }: KeyboardEvent): boolean => {
  if (defaultPrevented || altKey || !(ctrlKey || metaKey) || silent()) return false;
  const writing =
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && target.dataset['drafted'] !== undefined);
  return !writing && ['z', 'y'].includes(key.toLowerCase());
};

export const listenToKeys = (session: Session): void => {
  addEventListener('keydown', (event) => {
    session.playback.wake();
    if (undoes(event)) {
      event.preventDefault();
      session.undo(event.shiftKey || event.key.toLowerCase() === 'y' ? 'on' : 'back');
      return;
    }
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    if (silent()) return;
    const still = session.shown.playing === 'still';
    if (event.key === 'Escape' && !still) {
      event.preventDefault();
      session.playback.stop();
      return;
    }
    if (event.key === 'Escape' && session.shown.placing !== null) {
      event.preventDefault();
      session.touches.place(null);
      return;
    }
    if (event.key === 'Escape' && session.shown.whole !== null) {
      event.preventDefault();
      session.leaveWhole();
      return;
    }
    if (event.key === 'Enter' && event.target instanceof HTMLInputElement && event.target.type !== 'file') {
      // What is written is done with: the next space plays.
      event.target.blur();
      return;
    }
    if (event.key !== ' ' || event.repeat || (still && spaceIsTaken(event.target))) return;
    event.preventDefault();
    settle(event.target);
    if (still) session.playback.play(0);
    else session.playback.stop();
  });
  // A button would take the key's release for a click of its own.
  addEventListener('keyup', (event) => {
    const { target } = event;
    if (event.key !== ' ' || !(target instanceof HTMLElement)) return;
    if (onStand(target)) event.preventDefault();
    if (['play', 'bar', 'beat', 'note-place'].some((name) => target.classList.contains(name)))
      event.preventDefault();
  });
  let byPointer = false;
  addEventListener('keydown', () => (byPointer = false), true);
  addEventListener('pointerdown', () => {
    byPointer = true;
    session.playback.wake();
  });
  // A menu chosen from by touch lets go of the space key; by keyboard the focus stays where it is.
  addEventListener('change', ({ target }) => {
    if (byPointer && target instanceof HTMLSelectElement) target.blur();
  });
};
