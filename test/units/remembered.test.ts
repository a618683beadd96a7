import { expect, test } from 'vitest';
import { remembered } from '../../src/units/index.ts';

test('works a thing out once for each that it is asked of, also where there is nothing to be had', () => {
  const asked: string[] = [];
  const nameOf = remembered(({ name }: { readonly name: string }) => {
    asked.push(name);
    return name === '' ? undefined : { name };
  });
  const [a, b, empty] = [{ name: 'a' }, { name: 'a' }, { name: '' }];
  expect(nameOf(a)).toBe(nameOf(a));
  // Two that look alike are two.
  expect(nameOf(b)).not.toBe(nameOf(a));
  expect([nameOf(empty), nameOf(empty)]).toEqual([undefined, undefined]);
  expect(asked).toEqual(['a', 'a', '']);
});
