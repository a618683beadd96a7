/** Whether the app is kept on this device, so that it opens without a network. */

/**
 * `kept`: everything is here. `keeping`: on the way. `newer`: as `kept`, and another build waits until every page of this one is
 * closed. `not`: this browser keeps nothing (an address that is neither https nor this machine, a private window).
 */
export type Kept = 'kept' | 'keeping' | 'newer' | 'not';

const stateOf = (registered: ServiceWorkerRegistration): Kept => {
  if (registered.active === null) return 'keeping';
  return registered.waiting === null ? 'kept' : 'newer';
};

/** Has the app kept, and tells how far that is, now and whenever it changes. `script`: address of the keeping thread. */
export const keepOffline = async (script: string, tell: (kept: Kept) => void): Promise<void> => {
  if (!('serviceWorker' in navigator)) {
    tell('not');
    return;
  }
  try {
    const registered = await navigator.serviceWorker.register(script);
    const look = (): void => tell(stateOf(registered));
    const follow = (): void => {
      const { installing } = registered;
      installing?.addEventListener('statechange', () => {
        if (installing.state === 'redundant' && registered.active === null) tell('not');
        else look();
      });
    };
    registered.addEventListener('updatefound', follow);
    follow();
    look();
  } catch {
    tell('not');
  }
};
