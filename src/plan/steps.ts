/**
 * The steps for a place, from most support to none: drills that take the click away. That feedback faded over practice helps retention is
 * known (Winstein & Schmidt 1990; Aoyagi et al. 2019; but an advantage gone after a day: Dyer et al. 2017); that the same holds for a click,
 * which paces and is no feedback, is an extrapolation of ours.
 *
 * Limits: a click off the beat must be placed between beats, so the part of the beat that it leaves may not be shorter than 250 ms (Repp 2003,
 * J Mot Behav 35:355: dividing costs below 200 to 250 ms); and from one click to the next no more than about 1.8 s pass without dividing (Repp
 * 2005, Psychon Bull Rev 12:969; from memory), so that the half bar is taken only where it is shorter than that.
 */
import { F, type Beats, type Fraction } from '../units/index.ts';
import type { Click, Setting, Step, StepSettings } from './model.ts';
import { comfortable, lasting, startShare, tempoSteps, tempoText } from './tempi.ts';
import { listText } from './words.ts';

const lastComfortable = F.fraction(9, 5);

const half = (length: Beats): Beats => F.div(length, F.fraction(2)) as Beats;

const base = ({ bars, place }: Setting): StepSettings => ({
  bars,
  parts: place.parts.length === 0 ? null : place.parts,
  keep: 'all',
  click: 'every',
  tempo: [],
  times: 2,
  countIn: 'auto',
  upbeat: 'auto',
  holds: 'count',
});

/** The click with most support that is not each beat: half bars, where they exist and are near enough; else the beat. */
const firstClick = (setting: Setting, share: Fraction): Click => {
  const spacing = lasting(half(setting.bar), setting.beat, F.mul(setting.perMinute, share));
  return setting.clicks.has('half') && F.atMost(spacing, lastComfortable) ? 'half' : 'every';
};

const underText = (click: Click): string => (click === 'half' ? 'the half-bar click' : 'the beat');

/** The line alone, value by value. */
const alone = (setting: Setting, share: Fraction): readonly Step[] => {
  const click = firstClick(setting, share);
  const tempo = [tempoText(setting, share)];
  return setting.keeps.map((keep, i) => ({
    ...base(setting),
    keep,
    click,
    tempo,
    times: 4,
    branch: 'main',
    why:
      i === 0
        ? `Only the notes that pass from one to the other, under ${underText(click)}: hear them as one line.`
        : `Only the longer values under ${underText(click)}: know what lies beside the line.`,
  }));
};

/** Clicks off the beat, slow enough to be placed; none where even the slowest tempo is too fast. */
const side = (setting: Setting, share: Fraction): readonly Step[] => {
  const after = setting.place.kind === 'after-beats' || setting.place.kind === 'syncopation';
  const choices = (after ? ['after', 'weak'] : ['weak', 'after']) as readonly ('weak' | 'after')[];
  for (const click of choices) {
    if (!setting.clicks.has(click)) continue;
    const gap = click === 'after' ? half(setting.beat) : setting.beat;
    const fastest = F.min(F.one, F.div(lasting(gap, setting.beat, setting.perMinute), comfortable));
    if (F.less(fastest, share)) continue;
    return [
      {
        ...base(setting),
        click,
        tempo: [tempoText(setting, share)],
        branch: 'side',
        why:
          click === 'weak'
            ? 'The click moves to the weak beats: the strong ones are yours.'
            : 'The click moves behind the beat: the beat is yours.',
      },
    ];
  }
  return [];
};

/** The click of the kind itself, where it has one. */
const own = (setting: Setting): readonly Step[] => {
  const { kind } = setting.place;
  if (kind === 'hemiola') {
    const click = `hemiola:${setting.bars}`;
    return [
      {
        ...base(setting),
        click,
        tempo: [tempoText(setting, F.one)],
        branch: 'main',
        why: 'The click beats the hemiola with you: three even beats over the two bars.',
      },
    ];
  }
  return [];
};

/**
 * The steps for a place, in order; each is a drill for `levare drill`. Tempi begin where the shortest value is comfortable and end at the
 * mark. The same setting gives the same steps.
 */
export const stepsFor = (setting: Setting): readonly Step[] => {
  const { place, names, clicks, barCount } = setting;
  const share = startShare(setting);
  const mark = [tempoText(setting, F.one)];
  const click = firstClick(setting, share);
  const leader = place.seams[0]?.from ?? place.parts[0];
  const who = leader === undefined ? 'one of you' : (names[leader] ?? leader);
  const together: Step = {
    ...base(setting),
    click,
    tempo: tempoSteps(setting, share, F.one),
    branch: 'main',
    why: `All of it under ${underText(click)}, from a tempo in which the shortest notes are comfortable up to the mark.`,
  };
  const thin = (each: 'bar' | '2bars', why: string): readonly Step[] =>
    clicks.has(each) ? [{ ...base(setting), click: each, tempo: mark, branch: 'main', why }] : [];
  return [
    ...(place.kind === 'shared-line' ? alone(setting, share) : []),
    ...own(setting),
    together,
    ...side(setting, share),
    ...thin('bar', 'One click a bar: it tells you whether you arrive together.'),
    ...(barCount > 1 ? thin('2bars', 'One click in two bars: the bar between is yours.') : []),
    {
      ...base(setting),
      click: 'none',
      countIn: 'first',
      tempo: mark,
      branch: 'main',
      why: 'Counted in, then no click: keep what you have.',
    },
    {
      ...base(setting),
      click: 'none',
      countIn: 'none',
      tempo: mark,
      times: 1,
      branch: 'main',
      why: `No click at all: ${who} leads it in${place.parts.length > 1 ? `, and ${listText(place.parts.filter((id) => id !== leader).map((id) => names[id] ?? id))} breathe with that` : ''}.`,
    },
  ];
};
