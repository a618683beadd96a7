import { it } from 'vitest';
import { fuzzBarPlans } from '../score/barplan-fuzz.ts';

it('survives 20,000 mutated plans', () => fuzzBarPlans(2, 20_000));
