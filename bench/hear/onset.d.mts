export function measureNote(
  samples: Float32Array,
  rate: number,
): { physical: number; perceived: number; end: number } | null;
