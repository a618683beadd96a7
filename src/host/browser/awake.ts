/** Keeps the screen from going dark (Screen Wake Lock, W3C), and fills it. */

/** Asks for the screen to stay lit until the returned function is called; `told`: whether it does. */
export const keepAwake = (told: (awake: boolean) => void): (() => void) => {
  const state: { lock: WakeLockSentinel | null; wanted: boolean } = { lock: null, wanted: true };
  const wanted = (): boolean => state.wanted;
  const letGo = (): void => {
    void state.lock?.release();
    state.lock = null;
  };
  const ask = async (): Promise<void> => {
    if (!wanted() || document.visibilityState !== 'visible') return;
    try {
      state.lock = await navigator.wakeLock.request('screen');
      told(true);
    } catch {
      // Not known here, or refused: low battery, a setting.
      told(false);
    }
    // It may have come too late.
    if (!wanted()) letGo();
  };
  // A page that is hidden loses the lock.
  const again = (): void => void ask();
  document.addEventListener('visibilitychange', again);
  void ask();
  return () => {
    state.wanted = false;
    document.removeEventListener('visibilitychange', again);
    letGo();
  };
};

/** Fills the screen where the browser lets it; the page covers the window in any case. */
export const fillScreen = async (element: HTMLElement): Promise<void> => {
  try {
    await element.requestFullscreen({ navigationUI: 'hide' });
  } catch {
    // Telephones of one maker do not; nothing is lost.
  }
};

export const leaveFullScreen = (): void => {
  if (document.fullscreenElement !== null) void document.exitFullscreen();
};
