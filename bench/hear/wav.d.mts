export function readWav(file: string): { rate: number; samples: Float32Array };
export function wavBytes(samples: Float32Array, rate: number, bits: number): Buffer;
