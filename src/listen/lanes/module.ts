/**
 * A module of WebAssembly 2.0 with the sums that hearing spends most of its time on, two numbers of 64 bits at a time (its vector instructions). Each sum is added up in
 * the order in which TypeScript would, so that both come to the same to the last bit. Opcodes: WebAssembly Core Specification 2.0, section 5.4.
 */

type Code = readonly number[];

/** LEB128, unsigned; of numbers below 64 the signed form is the same. */
const leb = (value: number): Code => (value < 128 ? [value] : [(value % 128) + 128, ...leb(value >> 7)]);
const sized = (body: Code): Code => [...leb(body.length), ...body];
const listed = (items: readonly Code[]): Code => [...leb(items.length), ...items.flat()];

const [i32, v128] = [0x7f, 0x7b];
const get = (local: number): Code => [0x20, local];
const set = (local: number, value: Code): Code => [...value, 0x21, local];
/** A number below 64. */
const small = (value: number): Code => [0x41, value];
const plus = (a: Code, b: Code): Code => [...a, ...b, 0x6a];
const four = (a: Code): Code => [...a, ...small(4), 0x6c];
const move = (local: number, by: Code): Code => set(local, plus(get(local), by));
/** Addresses are those of numbers of 8 bytes. */
const load = (address: Code, offset = 0): Code => [...address, 0xfd, 0x00, 3, offset];
const loadToBoth = (address: Code): Code => [...address, 0xfd, 0x0a, 3, 0];
const store = (address: Code, offset: number, value: Code): Code => [
  ...address,
  ...value,
  0xfd,
  0x0b,
  3,
  offset,
];
const nought: Code = [0xfd, 0x0c, ...Array.from({ length: 16 }, () => 0)];
/** Adds a product to a local. */
const addProduct = (local: number, a: Code, b: Code): Code =>
  set(local, [...get(local), ...a, ...b, 0xfd, 0xf2, 0x01, 0xfd, 0xf0, 0x01]);
/** Does something as often as a local says, at least once; the local is 0 then. */
const times = (local: number, body: Code): Code => [
  0x03,
  0x40,
  ...body,
  ...set(local, [...get(local), ...small(1), 0x6b]),
  ...get(local),
  0x0d,
  0,
  0x0b,
];
const each = (count: number, code: (n: number) => Code): Code =>
  Array.from({ length: count }, (_, n) => code(n)).flat();

/** A function of `parameters` addresses and counts, with further locals: `integers`, then `vectors`. */
const functionOf = (integers: number, vectors: number, body: Code): Code =>
  sized([
    ...listed([
      [...leb(integers), i32],
      [...leb(vectors), v128],
    ]),
    ...body,
    0x0b,
  ]);

const convolveParameters = 10;
/** Four outputs of a convolution over time, four frames at a time. */
const convolve = (): Code => {
  const [values, weights, out, inputs, moments] = [0, 1, 2, 3, 4];
  const [dilation, stride, perOutput, groups, outStride] = [5, 6, 7, 8, 9];
  const [row, at, weight, i, k, place] = [10, 11, 12, 13, 14, 15];
  const [sums, x0, x1, u] = [16, 24, 25, 26];
  const tap = [
    ...set(x0, load(get(at))),
    ...set(x1, load(get(at), 16)),
    ...set(place, get(weight)),
    ...each(4, (o) => [
      ...set(u, loadToBoth(get(place))),
      ...addProduct(sums + 2 * o, get(x0), get(u)),
      ...addProduct(sums + 2 * o + 1, get(x1), get(u)),
      ...move(place, get(perOutput)),
    ]),
    ...move(weight, small(8)),
    ...move(at, get(dilation)),
  ];
  const input = [...set(at, get(row)), ...set(k, get(moments)), ...times(k, tap), ...move(row, get(stride))];
  return functionOf(6, 11, [
    ...times(groups, [
      ...each(8, (n) => set(sums + n, nought)),
      ...set(row, get(values)),
      ...set(weight, get(weights)),
      ...set(i, get(inputs)),
      ...times(i, input),
      ...set(place, get(out)),
      ...each(4, (o) => [
        ...store(get(place), 0, get(sums + 2 * o)),
        ...store(get(place), 16, get(sums + 2 * o + 1)),
        ...move(place, get(outStride)),
      ]),
      ...move(values, small(32)),
      ...move(out, small(32)),
    ]),
  ]);
};

const weightedParameters = 6;
/** Sums of pairs under weights, four of them at a time, each `apart` bytes later than the one before. */
const weighted = (): Code => {
  const [values, weights, out, apart, length, groups] = [0, 1, 2, 3, 4, 5];
  const [at, weight, k] = [6, 10, 11];
  const [sums, u] = [12, 16];
  return functionOf(6, 5, [
    ...times(groups, [
      ...set(at, get(values)),
      ...each(3, (n) => set(at + n + 1, plus(get(at + n), get(apart)))),
      ...each(4, (n) => set(sums + n, nought)),
      ...set(weight, get(weights)),
      ...set(k, get(length)),
      ...times(k, [
        ...set(u, loadToBoth(get(weight))),
        ...each(4, (n) => [...addProduct(sums + n, load(get(at + n)), get(u)), ...move(at + n, small(16))]),
        ...move(weight, small(8)),
      ]),
      ...each(4, (n) => store(get(out), 16 * n, get(sums + n))),
      ...move(out, [0x41, 0xc0, 0x00]),
      ...move(values, four(get(apart))),
    ]),
  ]);
};

const transformParameters = 6;
/** All passes but the first of a Fourier transform in place (fft.ts), two turns at a time. */
const transform = (): Code => {
  const [re, im, cos, sin, groups, passes] = [0, 1, 2, 3, 4, 5];
  const [span, ra, ia, rb, ib, c, s, k, g] = [6, 7, 8, 9, 10, 11, 12, 13, 14];
  const [re2, im2, turnC, turnS, x, kept] = [15, 16, 17, 18, 19, 20];
  const difference = (a: Code, b: Code): Code => [...a, ...b, 0xfd, 0xf1, 0x01];
  const sum = (a: Code, b: Code): Code => [...a, ...b, 0xfd, 0xf0, 0x01];
  const product = (a: number, b: number): Code => [...get(a), ...get(b), 0xfd, 0xf2, 0x01];
  const bothWays = (above: number, below: number): Code => [
    ...set(kept, load(get(above))),
    ...store(get(below), 0, difference(get(kept), get(x))),
    ...store(get(above), 0, sum(get(kept), get(x))),
  ];
  const turn = [
    ...set(re2, load(get(rb))),
    ...set(im2, load(get(ib))),
    ...set(turnC, load(get(c))),
    ...set(turnS, load(get(s))),
    ...set(x, difference(product(re2, turnC), product(im2, turnS))),
    ...bothWays(ra, rb),
    ...set(x, sum(product(re2, turnS), product(im2, turnC))),
    ...bothWays(ia, ib),
    ...[ra, ia, rb, ib, c, s].flatMap((place) => move(place, small(16))),
  ];
  return functionOf(9, 6, [
    ...set(span, small(16)),
    ...times(passes, [
      ...set(ra, get(re)),
      ...set(ia, get(im)),
      ...set(g, get(groups)),
      ...times(g, [
        ...set(rb, plus(get(ra), get(span))),
        ...set(ib, plus(get(ia), get(span))),
        ...set(c, get(cos)),
        ...set(s, get(sin)),
        ...set(k, [...get(span), ...small(4), 0x76]),
        ...times(k, turn),
        ...set(ra, get(rb)),
        ...set(ia, get(ib)),
      ]),
      ...move(cos, get(span)),
      ...move(sin, get(span)),
      ...set(span, [...get(span), ...small(1), 0x74]),
      ...set(groups, [...get(groups), ...small(1), 0x76]),
    ]),
  ]);
};

const text = (value: string): Code => sized(Array.from(value, (letter) => letter.charCodeAt(0)));
const section = (id: number, body: Code): Code => [id, ...sized(body)];
const typeOf = (parameters: number): Code => [
  0x60,
  ...listed(Array.from({ length: parameters }, () => [i32])),
  0,
];

/** The module: it takes the memory `host.memory` and gives `convolve`, `weighted` and `transform`. */
export const lanesModule = (): Uint8Array<ArrayBuffer> =>
  Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(
      1,
      listed([convolveParameters, weightedParameters, transformParameters].map((count) => typeOf(count))),
    ),
    ...section(2, listed([[...text('host'), ...text('memory'), 0x02, 0x00, 1]])),
    ...section(3, listed([[0], [1], [2]])),
    ...section(7, listed(['convolve', 'weighted', 'transform'].map((name, n) => [...text(name), 0, n]))),
    ...section(10, listed([convolve(), weighted(), transform()])),
  ]);
