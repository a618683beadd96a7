/**
 * Reads the file line by line once its layout is known: keeps each column's place in time, begins bars at bar lines and hands
 * everything to the bar it belongs to.
 *
 * Time. Each column counts by its own lengths from the bar line on. Tokens on one line sound together; where columns disagree
 * it is told (`kern-misaligned`), each goes on by its own lengths, and all begin together again at the next bar line. A column that
 * has just split off begins where its line stands.
 */
import { F, type Fraction } from '../../../units/index.ts';
import { metreLength } from '../../metre.ts';
import { notKept } from '../drafts/log.ts';
import { readBarline } from './barline.ts';
import { putDynamics, readSyllable } from './beside.ts';
import { interpret } from './interpret.ts';
import { columnsOf, isHeader, isKern } from './lines.ts';
import { createChords, putChord } from './notes.ts';
import { createPaths, isPath, type Leaf } from './paths.ts';
import { readRecord } from './records.ts';
import { createRecips } from './recip.ts';
import { countAfter, isDynamicsKind, isTextKind, pathTokens } from './survey.ts';
import { consensus, strands, type Beginning } from './strand.ts';
import type { Course } from './course.ts';
import type { Sections } from './sections.ts';
import type { Desk, Entry, Strand } from './types.ts';
import { putLayout, putWords, readLayout, tellLayout } from './words.ts';

export const createReader = (desk: Desk, course: Course, sections: Sections) => {
  const { log, plan } = desk;
  const paths = createPaths<Strand>(strands, log);
  const chordOf = createChords(desk);
  const recips = createRecips();
  const told = new Set<number>();
  /** Whether any note of the bar is placed. */
  let placed = false;

  const kernLeaves = (): readonly Leaf<Strand>[] => paths.leaves().filter(({ track }) => isKern(track.kind));
  const seatOf = (leaf: Leaf<Strand>) => plan.seats.get(leaf.track.id);

  /** Numbers the voices of each staff: the uppermost spine first, its parts from left to right. */
  const nameVoices = (): void => {
    const counts = new Map<number, number>();
    const leaves = kernLeaves().map((leaf) => ({ leaf, seat: seatOf(leaf) }));
    const sorted = leaves.sort((a, b) => (a.seat?.rank ?? 0) - (b.seat?.rank ?? 0));
    for (const { leaf, seat } of sorted) {
      if (seat === undefined) continue;
      const key = seat.part * 10_000 + seat.staff;
      const count = (counts.get(key) ?? 0) + 1;
      counts.set(key, count);
      // Four voices to a staff, as usual in MusicXML; a fifth gets a number that no staff reaches.
      leaf.state.voice = String(count <= 4 ? 4 * (seat.staff - 1) + count : 1000 * seat.staff + count);
    }
  };

  const misaligned = (part: number, line: number, what: string): void => {
    if (told.has(part)) return;
    told.add(part);
    log.say('repair', 'kern-misaligned', what, desk.place(part, line));
  };

  /** Columns that are alternatives: marked as such, or any but the first of several strophes. */
  const skipped = (leaf: Leaf<Strand>, seen: Set<number>): boolean => {
    if (leaf.state.ossia) return true;
    if (leaf.state.strophe === '') return false;
    const again = seen.has(leaf.track.id);
    seen.add(leaf.track.id);
    return again;
  };

  const putNotes = (beginnings: readonly Beginning[], time: Fraction, line: number): Map<number, Entry> => {
    const heads = new Map<number, Entry>();
    // The first line of a bar stands at its beginning; later ones where columns that are placed say.
    const known = !placed || beginnings.some(({ leaf }) => !leaf.state.fresh);
    placed ||= beginnings.length > 0;
    for (const { leaf, chord } of beginnings) {
      const seat = seatOf(leaf);
      if (seat === undefined) continue;
      const strand = leaf.state;
      if (strand.fresh && known) {
        // What floated before ends here.
        const late = F.sub(time, strand.cursor);
        for (const entry of strand.floating) entry.onset = F.max(F.zero, F.add(entry.onset, late));
      }
      const onset = strand.fresh && known ? time : strand.cursor;
      if (known && !F.equal(onset, time))
        misaligned(
          seat.part,
          line,
          `In line ${line} the columns do not agree on the time: by its own lengths this part stands ${F.format(onset)} of a whole note into the bar, others ${F.format(time)}. It is read by its own lengths; at the next bar line all begin together again.`,
        );
      const entries = putChord(desk, chord, strand, seat, leaf.track.id, onset, line);
      const [first] = entries;
      if (first !== undefined && first.token.rest === 0 && !heads.has(leaf.track.id))
        heads.set(leaf.track.id, first);
      const whole = chord.wholeBar && F.isZero(onset);
      const end = F.add(onset, chord.length);
      strand.cursor = end;
      strand.floating = known ? [] : [...strand.floating, ...entries].slice(-1000);
      strand.fresh = !known;
      strand.resting = whole;
      const draft = desk.draft(seat.part, desk.bar);
      if (whole) draft.restExtent = F.max(draft.restExtent, end);
      else draft.extent = F.max(draft.extent, end);
      // A note of a chord may be longer than the first, which leads on.
      for (const { recip, token } of entries)
        if (recip !== null && token.grace === 'none' && !whole)
          draft.extent = F.max(draft.extent, F.add(onset, recip.length));
      for (const text of strand.texts)
        putLayout(desk, text, {
          part: seat.part,
          staff: seat.staff,
          at: onset,
          bar: desk.bar,
          line: text.line,
        });
      strand.texts = [];
    }
    return heads;
  };

  const besideOf = (leaf: Leaf<Strand>) => {
    const beside = plan.beside.get(leaf.track.id);
    const seat = beside === undefined ? undefined : plan.seats.get(beside.kern);
    return beside === undefined || seat === undefined ? null : { ...beside, seat };
  };

  const putBeside = (
    leaf: Leaf<Strand>,
    token: string,
    heads: Map<number, Entry>,
    verses: Map<number, number>,
    line: number,
  ): void => {
    const { kind, id } = leaf.track;
    const beside = besideOf(leaf);
    if (beside !== null && isDynamicsKind(kind)) {
      const { part, staff } = beside.seat;
      desk.clock.at((at) => putDynamics(desk, token, { part, staff, at, bar: desk.bar, line }));
      return;
    }
    if (beside !== null && isTextKind(kind)) {
      const nth = (verses.get(id) ?? 0) + 1;
      const verse = /^\d{1,3}$/.test(leaf.state.strophe)
        ? leaf.state.strophe
        : String(beside.verse + nth - 1);
      const head = heads.get(beside.kern);
      if (head === undefined)
        notKept(log, 'lyric', 'A syllable that stands at no note', desk.place(beside.seat.part, line));
      else head.lyrics.push(readSyllable(token, verse));
      return;
    }
    notKept(
      log,
      `**${kind.slice(0, 30)}`,
      `What a column **${kind.slice(0, 30)} says`,
      desk.place(null, line),
    );
  };

  const takeData = (tokens: readonly string[], line: number): void => {
    const leaves = paths.leaves();
    const beginnings: Beginning[] = [];
    const seen = new Set<number>();
    let beat: Fraction | null = null;
    for (let index = 0; index < Math.min(tokens.length, leaves.length); index += 1) {
      const leaf = leaves[index];
      const token = tokens[index] ?? '.';
      if (leaf === undefined || token === '.' || token === '') continue;
      if (leaf.track.kind === 'recip') {
        const recip = recips(token.replace(/q.*/, ''));
        beat ??= leaf.state.cursor;
        if (recip !== null && !token.includes('q'))
          leaf.state.cursor = F.add(leaf.state.cursor, recip.length);
        continue;
      }
      if (!isKern(leaf.track.kind)) continue;
      const seat = seatOf(leaf);
      if (seat === undefined) continue;
      if (skipped(leaf, seen)) {
        notKept(log, 'ossia', 'An alternative version of the music', desk.place(seat.part, line));
        continue;
      }
      const chord = chordOf(token, seat.part, line);
      if (chord !== null) beginnings.push({ leaf, chord });
    }
    const time = consensus(beginnings) ?? beat;
    course.music();
    desk.clock.line(time);
    const heads = time === null ? new Map<number, Entry>() : putNotes(beginnings, time, line);
    const verses = new Map<number, number>();
    for (let index = 0; index < Math.min(tokens.length, leaves.length); index += 1) {
      const leaf = leaves[index];
      const token = tokens[index] ?? '.';
      if (leaf === undefined || isKern(leaf.track.kind) || leaf.track.kind === 'recip') continue;
      if (token !== '.' && token !== '') putBeside(leaf, token, heads, verses, line);
      verses.set(leaf.track.id, (verses.get(leaf.track.id) ?? 0) + 1);
    }
  };

  const takeBarline = (tokens: readonly string[], line: number): void => {
    const leaves = paths.leaves();
    const kern = leaves.flatMap((leaf, index) =>
      isKern(leaf.track.kind) ? [{ leaf, token: tokens[index] ?? '' }] : [],
    );
    const signs = kern.flatMap(({ token }) => (token.startsWith('=') ? [readBarline(token)] : []));
    const [first] = signs;
    if (first === undefined) return;
    if (signs.length < kern.length)
      log.say(
        'repair',
        'kern-bar-line-partial',
        `The bar line in line ${line} is missing in some columns; it holds for all.`,
        desk.place(null, line),
      );
    const sign = {
      ...first,
      number: signs.find(({ number }) => number !== '')?.number ?? '',
      style: signs.find(({ style }) => style !== null)?.style ?? null,
      repeatEnd: signs.some(({ repeatEnd }) => repeatEnd),
      repeatStart: signs.some(({ repeatStart }) => repeatStart),
      fermata: signs.some(({ fermata }) => fermata),
    };
    const extent = course.extent();
    const metre = course.metre();
    const full = metre === null ? null : metreLength(metre);
    if (sign.slight && course.hasMusic() && full !== null && F.less(extent, full)) {
      notKept(
        log,
        'barline/inside',
        'A dotted, dashed or partial bar line inside a bar',
        desk.place(null, line),
      );
      return;
    }
    for (const { leaf } of kern) {
      const { state } = leaf;
      const seat = seatOf(leaf);
      if (seat === undefined) continue;
      for (const text of state.texts)
        putLayout(desk, text, {
          part: seat.part,
          staff: seat.staff,
          at: extent,
          bar: course.barBefore(),
          line: text.line,
        });
      state.texts = [];
      if (
        course.hasMusic() &&
        !state.fresh &&
        !state.resting &&
        !state.ossia &&
        F.isPositive(state.cursor) &&
        !F.equal(state.cursor, extent)
      )
        misaligned(
          seat.part,
          line,
          `The columns do not end this bar together: by its own lengths this part fills ${F.format(state.cursor)} of a whole note, the longest ${F.format(extent)}.`,
        );
    }
    for (const { state } of leaves) {
      state.cursor = F.zero;
      state.fresh = true;
      state.floating = [];
      state.resting = false;
    }
    placed = false;
    told.clear();
    course.barline(sign);
  };

  const takeComment = (line: string, tokens: readonly string[], number: number): void => {
    if (!line.includes('!LO:')) return;
    paths.leaves().forEach((leaf, index) => {
      const remark = readLayout(tokens[index] ?? '', number);
      if (remark === null) return;
      if (isKern(leaf.track.kind)) {
        if (leaf.state.texts.length < 50) leaf.state.texts = [...leaf.state.texts, remark];
        return;
      }
      const beside = besideOf(leaf);
      if ((remark.kind === 'TX' || remark.kind === 'REH') && beside !== null) {
        const { part, staff } = beside.seat;
        desk.clock.before((at) => putLayout(desk, remark, { part, staff, at, bar: desk.bar, line: number }));
      } else tellLayout(desk, remark, desk.place(null, number));
    });
  };

  const takeGlobal = (line: string, number: number): void => {
    const top = { part: 0, staff: 1, line: number };
    const remark = line.startsWith('!!LO:') ? readLayout(line, number) : null;
    if (remark !== null) desk.clock.before((at) => putLayout(desk, remark, { ...top, at, bar: desk.bar }));
    const record = readRecord(line);
    if (record?.code === 'OMD' && record.text !== '')
      desk.clock.before((at) => putWords(desk, record.text, true, { ...top, at, bar: desk.bar }));
  };

  const takeInterpretations = (tokens: readonly string[], after: number, number: number): void => {
    if (tokens.some(isPath)) {
      const header = paths.leaves().length === 0;
      if (header) {
        course.movement();
        placed = false;
      }
      paths.take(tokens, after, number);
      nameVoices();
      return;
    }
    let first = true;
    paths.leaves().forEach((leaf, index) => {
      const token = tokens[index] ?? '*';
      if (token.length < 2) return;
      const seat = isKern(leaf.track.kind) ? seatOf(leaf) : undefined;
      if (seat === undefined) {
        if (token.startsWith('*S/') || token === '*S-')
          leaf.state.strophe = /^\*S\/(?!fin)(.{1,40})/.exec(token)?.[1] ?? '';
        return;
      }
      if (token.startsWith('*>')) {
        if (first) sections.take(token.slice(2), number);
        first = false;
        return;
      }
      interpret(token, { desk, strand: leaf.state, seat, line: number });
    });
  };

  /** Tells a line that has too few or too many columns; what is missing counts as nothing new. */
  const counted = (line: string, number: number): readonly string[] => {
    const count = paths.leaves().length;
    const tokens = columnsOf(line, count);
    if (tokens.length !== count)
      log.say(
        'repair',
        'kern-columns-wrong',
        `Line ${number} has ${tokens.length} ${tokens.length === 1 ? 'column' : 'columns'} where there are ${count}; ${tokens.length < count ? 'those that are missing hold nothing new' : 'those that are too many are left out'}.`,
        desk.place(null, number),
      );
    return tokens;
  };

  /** Reads all lines; the bars are with the course afterwards. */
  return (lines: readonly string[]): void => {
    lines.forEach((line, index) => {
      const number = index + 1;
      if (line.startsWith('!!')) takeGlobal(line, number);
      else if (line.trim() === '') return;
      else if (paths.leaves().length === 0) {
        if (isHeader(line)) takeInterpretations(columnsOf(line, 0), countAfter(lines, index), number);
        else
          log.say(
            'repair',
            'kern-columns-wrong',
            `Line ${number} stands outside all columns, before the line that names them or after their end; it is left out.`,
            { line: number },
          );
      } else if (line.startsWith('!')) takeComment(line, line.split('\t'), number);
      else if (line.startsWith('*')) {
        const tokens = columnsOf(line, paths.leaves().length);
        if (tokens.some(isPath))
          takeInterpretations(
            pathTokens(tokens, paths.leaves().length, number),
            countAfter(lines, index),
            number,
          );
        else takeInterpretations(counted(line, number), 0, number);
      } else if (line.startsWith('=')) takeBarline(counted(line, number), number);
      else {
        const tokens = counted(line, number);
        if (tokens.some((token) => token.startsWith('='))) takeBarline(tokens, number);
        else takeData(tokens, number);
      }
    });
    if (kernLeaves().length > 0)
      log.say(
        'repair',
        'file-truncated',
        'The file breaks off: its columns are never ended. What is there is read.',
        { line: lines.length },
      );
    course.end();
  };
};
