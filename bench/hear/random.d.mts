export interface Random {
  uniform(low?: number, high?: number): number;
  normal(): number;
  pick<T>(list: readonly T[]): T;
  chance(p: number): boolean;
  shuffle<T>(list: readonly T[]): T[];
  fork(label: string): Random;
}
export function seeded(text: string): Random;
