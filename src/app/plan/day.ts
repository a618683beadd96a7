/** Days by the calendar of this device. */

/** "2026-11-28". */
export const dayOf = (time: Date): string =>
  `${time.getFullYear()}-${String(time.getMonth() + 1).padStart(2, '0')}-${String(time.getDate()).padStart(2, '0')}`;

/** The day so many days after another. */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T12:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

export const today = (): string => dayOf(new Date());

/** Whole days from one day to another, at least none; null where either is no day. */
export const daysBetween = (from: string, to: string): number | null => {
  const [a, b] = [Date.parse(`${from}T12:00:00Z`), Date.parse(`${to}T12:00:00Z`)];
  return Number.isNaN(a) || Number.isNaN(b) ? null : Math.max(0, Math.round((b - a) / 86_400_000));
};
