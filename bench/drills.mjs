/** A plain drill for benchmarks, and the value of a Result. */
export const value = (result) => {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

export const plainDrill = (bars) => ({
  format: 'levare.drill/2',
  score: { sha256: '', title: '', file: '' },
  bars,
  pass: null,
  parts: null,
  keep: 'all',
  click: 'every',
  tacet: null,
  count: null,
  groups: null,
  tempo: ['90'],
  times: 1,
  gap: null,
  countIn: 'auto',
  upbeat: 'none',
  holds: 'through',
  octaves: {},
});
