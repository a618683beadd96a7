import { describe, expect, test } from 'vitest';
import { metreText } from '../../src/score/metre.ts';
import { F } from '../../src/units/index.ts';
import {
  attributes,
  barLengths,
  fullBar,
  measure,
  note,
  onePart,
  read,
  sounding,
  time,
  twoParts,
} from './musicxml-fragments.ts';

/** Bars, metres and repeats. Each check names the part of the W3C MusicXML 4.0 documentation that it follows. */

const metres = (text: string): string[] => read(text).score.bars.map(({ metre }) => metreText(metre));
const pickups = (text: string): boolean[] => read(text).score.bars.map(({ pickup }) => pickup);
const whole = attributes(1);

describe('metres', () => {
  test('additive, mixed, common, cut, free, interchangeable', () => {
    // elements time, interchangeable, senza-misura
    const bar = (number: string, content: string): string =>
      measure(number, `<attributes><divisions>2</divisions>${content}</attributes>${note('C4', 5)}`);
    const text = onePart(
      bar('1', time('3+2', 8)) +
        bar(
          '2',
          '<time><beats>2</beats><beat-type>4</beat-type><beats>1</beats><beat-type>8</beat-type></time>',
        ) +
        bar('3', '<time symbol="common"><beats>4</beats><beat-type>4</beat-type></time>') +
        bar('4', '<time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time>') +
        bar('5', '<time><senza-misura/></time>') +
        bar(
          '6',
          '<time><beats>5</beats><beat-type>8</beat-type><interchangeable><beats>2</beats><beat-type>4</beat-type></interchangeable></time>',
        ),
    );
    expect(metres(text)).toEqual(['3+2/8', '2/4+1/8', '4/4', '2/2', 'free', '5/8']);
    const { score, codes } = read(text);
    expect(score.bars.map(({ metre }) => metre.symbol)).toEqual([
      'numbers',
      'numbers',
      'common',
      'cut',
      'numbers',
      'numbers',
    ]);
    expect(codes).toContain('metre-interchangeable');
  });

  test('parts in different metres at once: the first counts, and it is said', () => {
    const { score, codes } = read(
      twoParts(
        measure('1', attributes(1, time(3, 4)) + note('C4', 3)),
        measure('1', attributes(2, time(6, 8)) + note('C4', 6)),
      ),
    );
    expect(metreText(score.bars[0]?.metre ?? { components: [], symbol: 'numbers' })).toBe('3/4');
    expect(codes).toEqual(['metre-differs']);
  });

  test('without a time signature the commonest bar length is taken', () => {
    const none = '<attributes><divisions>1</divisions></attributes>';
    const { score, codes } = read(
      onePart(
        measure('0', none + note('C4', 1), 'implicit="yes"') +
          measure('1', note('C4', 3)) +
          measure('2', note('C4', 3)),
      ),
    );
    expect(score.bars.map(({ metre, pickup }) => [metreText(metre), pickup])).toEqual([
      ['3/4', true],
      ['3/4', false],
      ['3/4', false],
    ]);
    expect(codes).toEqual(['metre-assumed']);
  });
});

describe('bars as they are', () => {
  test('upbeat, the bar that gives it back, numbers as printed', () => {
    // element measure: number, implicit, text
    const text = onePart(
      measure('0', whole + note('C4', 1), 'implicit="yes"') +
        measure('1', fullBar(), 'text="1a"') +
        measure('2', note('C4', 3)),
    );
    const { score, codes } = read(text);
    expect(score.bars.map(({ number }) => number)).toEqual(['0', '1a', '2']);
    expect(pickups(text)).toEqual([true, false, false]);
    expect(barLengths(score)).toEqual(['1/4', '1', '3/4']);
    expect(codes).toEqual([]);
  });

  test('a bar split by a repeat: the second half counts from the end', () => {
    // element measure: implicit for "the last half of mid-measure repeats"
    const text = onePart(
      measure('1', whole + fullBar()) +
        measure('2', `${note('C4', 3)}<barline location="right"><repeat direction="backward"/></barline>`) +
        measure('X1', note('C4', 1), 'implicit="yes"') +
        measure('3', fullBar()),
    );
    expect(pickups(text)).toEqual([false, false, true, false]);
    expect(read(text).codes).toEqual([]);
  });

  test('overfull and short bars keep their content and are told', () => {
    const { score, problems } = read(
      onePart(
        measure('1', whole + fullBar()) +
          measure('2', note('C4', 5)) +
          measure('3', note('C4', 2)) +
          measure('4', fullBar()),
      ),
    );
    expect(barLengths(score)).toEqual(['1', '5/4', '1/2', '1']);
    expect(problems.map(({ code, bar }) => [code, bar])).toEqual([
      ['bar-overfull', '2'],
      ['bar-short', '3'],
    ]);
    expect(score.bars.map(({ start }) => F.format(start))).toEqual(['0', '1', '9/4', '11/4']);
  });

  test('the longest part makes the bar; a part with fewer bars is placed by its numbers', () => {
    const { score, codes } = read(
      twoParts(
        measure('1', whole + fullBar()) + measure('2', note('C4', 2)) + measure('3', fullBar()),
        measure('1', whole + fullBar('E4')) + measure('3', fullBar('G4')),
      ),
    );
    expect(barLengths(score)).toEqual(['1', '1/2', '1']);
    expect(sounding(score, 1)).toEqual(['0 1 64', '3/2 1 67']);
    expect(codes).toEqual(['part-lacks-bars', 'bar-short']);
  });

  test('empty bars last their metre', () => {
    const { score, codes } = read(
      onePart(measure('1', attributes(1, time(3, 4))) + measure('2', note('C4', 3))),
    );
    expect(barLengths(score)).toEqual(['3/4', '3/4']);
    expect(codes).toEqual(['bar-empty']);
  });

  test('timewise reads as partwise', () => {
    // score-timewise: the same music with measures outside and parts inside
    const bars = [whole + note('C4', 1) + note('D4', 3), fullBar('E4')];
    const other = [whole + fullBar('G3'), note('A3', 2) + note('B3', 2)];
    const list =
      '<part-list><score-part id="P1"><part-name>A</part-name></score-part><score-part id="P2"><part-name>B</part-name></score-part></part-list>';
    const partwise = `<score-partwise>${list}${[bars, other].map((content, part) => `<part id="P${part + 1}">${content.map((one, index) => measure(String(index + 1), one)).join('')}</part>`).join('')}</score-partwise>`;
    const timewise = `<score-timewise>${list}${bars.map((one, index) => measure(String(index + 1), `<part id="P1">${one}</part><part id="P2">${other[index] ?? ''}</part>`)).join('')}</score-timewise>`;
    expect(read(timewise)).toEqual(read(partwise));
    expect(read(timewise).score.parts.map(({ notes }) => notes.length)).toEqual([3, 3]);
  });

  test('parts without music, music without a name, the same id twice', () => {
    const list =
      '<part-list><score-part id="P1"><part-name>A</part-name></score-part><score-part id="P9"><part-name>Lost</part-name></score-part></part-list>';
    const part = (id: string): string => `<part id="${id}">${measure('1', whole + fullBar())}</part>`;
    const { score, codes } = read(
      `<score-partwise>${list}${part('P1')}${part('P1')}${part('7 x')}</score-partwise>`,
    );
    expect(score.parts.map(({ id }) => id)).toEqual(['P1', 'P1-2', 'P7_x']);
    expect(codes).toEqual([
      'part-without-music',
      'part-not-listed',
      'part-not-listed',
      'part-id-changed',
      'part-id-changed',
    ]);
    expect(new Set(score.parts.flatMap(({ written }) => written.map(({ id }) => id))).size).toBe(3);
  });
});

test('the length of an overfull bar reads as a person would say it', () => {
  const said = (quarters: number): string =>
    read(onePart(measure('1', whole + note('C4', quarters))))
      .problems.map(({ message }) => message)
      .join();
  expect(said(96)).toContain('This bar holds 24 whole notes, more than its metre 4/4');
  expect(said(5)).toContain('This bar holds 5/4 of a whole note, more than its metre 4/4');
});

describe('the course of the piece', () => {
  const line = (location: string, content: string): string =>
    `<barline location="${location}">${content}</barline>`;

  test('repeats with times and after-jump, endings with lists and ranges', () => {
    // elements repeat and ending
    const { score, codes } = read(
      onePart(
        measure(
          '1',
          whole + line('left', '<bar-style>heavy-light</bar-style><repeat direction="forward"/>') + fullBar(),
        ) +
          measure('2', line('left', '<ending number="1-3" type="start">1.-3.</ending>') + fullBar()) +
          measure(
            '3',
            fullBar() + line('right', '<ending number="1-3" type="stop"/><repeat direction="backward"/>'),
          ) +
          measure(
            '4',
            line('left', '<ending number="4" type="start"/>') +
              fullBar() +
              line('right', '<ending number="4" type="discontinue"/>'),
          ) +
          measure(
            '5',
            fullBar() +
              line(
                'right',
                '<bar-style>light-heavy</bar-style><repeat direction="backward" times="4" after-jump="yes"/>',
              ),
          ),
      ),
    );
    expect(codes).toEqual([]);
    expect(
      score.bars.map(({ repeatStart, repeatEnd, repeatAfterJump, barline }) => [
        repeatStart,
        repeatEnd,
        repeatAfterJump,
        barline,
      ]),
    ).toEqual([
      [true, 0, false, 'regular'],
      [false, 0, false, 'regular'],
      [false, 4, false, 'regular'],
      [false, 0, false, 'regular'],
      [false, 4, true, 'final'],
    ]);
    expect(score.bars.map(({ ending }) => ending)).toEqual([
      null,
      { numbers: [1, 2, 3], text: '1.-3.', begins: true, ends: null },
      { numbers: [1, 2, 3], text: '1.-3.', begins: false, ends: 'stop' },
      { numbers: [4], text: '4', begins: true, ends: 'discontinue' },
      null,
    ]);
  });

  test('a fermata over a bar line, whichever edge and part shows it', () => {
    // element barline: up to two fermatas (one above, one below); attribute location: right, left or middle
    const hold = '<fermata type="upright"/><fermata type="inverted"/>';
    const { score, problems } = read(
      twoParts(
        measure('1', line('left', '<fermata/>') + whole + fullBar() + line('right', hold)) +
          measure('2', fullBar()) +
          measure('3', line('left', '<fermata>angled</fermata>') + fullBar()) +
          measure('4', fullBar()),
        measure('1', whole + fullBar() + line('right', hold)) +
          measure('2', fullBar()) +
          measure('3', fullBar() + line('right', '<bar-style>light-light</bar-style><fermata/>')) +
          measure('4', note('C4', 2) + line('middle', '<fermata/>') + note('C4', 2)),
      ),
    );
    expect(score.bars.map(({ fermata }) => fermata)).toEqual([true, true, true, false]);
    expect(score.bars[2]?.barline).toBe('double');
    // Nothing is left out in silence: before the first bar, in a shape of its own, inside a bar.
    expect(problems.map(({ code, bar, message }) => `${code} ${bar ?? ''} ${message}`)).toEqual([
      'not-kept 4 A fermata on a bar line inside a bar is not kept (found once).',
      'not-kept 1 A fermata before the first bar is not kept (found once).',
      'not-kept 3 The shape of a fermata on a bar line is not kept (found once).',
    ]);
  });

  test('jumps from sound elements, with names', () => {
    // element sound: segno, dalsegno, coda, tocoda, dacapo, fine
    const { score, codes } = read(
      onePart(
        measure('1', `${whole}<sound segno="A"/>${fullBar()}`) +
          measure('2', `${fullBar()}<sound tocoda="B"/>`) +
          measure('3', `${fullBar()}<sound dalsegno="A"/>`) +
          measure('4', `<sound coda="B"/>${fullBar()}<sound fine="yes"/><sound dacapo="yes"/>`),
      ),
    );
    expect(score.bars.map(({ jumps }) => jumps)).toEqual([
      [{ kind: 'segno', name: 'A' }],
      [{ kind: 'toCoda', name: 'B' }],
      [{ kind: 'dalSegno', name: 'A' }],
      [{ kind: 'coda', name: 'B' }, { kind: 'fine' }, { kind: 'daCapo' }],
    ]);
    expect(codes).toEqual([]);
  });

  test('jumps that are only printed are followed, and each is told', () => {
    // common practice, no source
    const words = (text: string): string =>
      `<direction><direction-type><words>${text}</words></direction-type></direction>`;
    const sign = (name: string): string =>
      `<direction><direction-type><${name}/></direction-type></direction>`;
    const { score, codes } = read(
      onePart(
        measure('1', whole + sign('segno') + fullBar()) +
          measure('2', fullBar() + words('To Coda')) +
          measure('3', fullBar() + words('D.S. al Coda')) +
          measure('4', sign('coda') + fullBar() + words('Fine')),
      ),
    );
    expect(score.bars.map(({ jumps }) => jumps.map(({ kind }) => kind))).toEqual([
      ['segno'],
      ['toCoda'],
      ['dalSegno'],
      ['coda', 'fine'],
    ]);
    expect(codes).toEqual(Array.from({ length: 5 }, () => 'jump-from-print'));
    const signs = read(
      onePart(
        measure('1', whole + fullBar()) +
          measure('2', fullBar() + sign('coda')) +
          measure('3', fullBar() + words('Da capo al Coda')) +
          measure('4', sign('coda') + fullBar()),
      ),
    ).score;
    expect(signs.bars.map(({ jumps }) => jumps.map(({ kind }) => kind))).toEqual([
      [],
      ['toCoda'],
      ['daCapo'],
      ['coda'],
    ]);
  });

  test('a repeat in mid-bar moves to the edge and is told', () => {
    const { score, codes } = read(
      onePart(
        measure(
          '1',
          whole + note('C4', 3) + line('middle', '<repeat direction="backward"/>') + note('C4', 1),
        ),
      ),
    );
    expect(score.bars[0]?.repeatEnd).toBe(2);
    expect(codes).toEqual(['repeat-mid-bar']);
  });
});
