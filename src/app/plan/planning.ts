/** The plan of today's rehearsal as it is made, changed and gone through; and the packs as they are made. */
import {
  editPlan,
  journalOf,
  mainSteps,
  planRehearsal,
  printedPlan,
  remarksOn,
  standing,
  stepKey,
  takesAt,
  type ListedPlace,
  type Piece,
  type PlanEdit,
  type PlanPlace,
  type PrintedPlan,
  type Rehearsal,
} from '../../desk/index.ts';
import {
  homeWork,
  savedFile,
  type HomeProgress,
  type HomeWork,
  type MadeFile,
} from '../../host/browser/index.ts';
import type { Problem } from '../../units/index.ts';
import type { Session } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import type { Language } from '../words/language.ts';
import { daysBetween, today } from './day.ts';
import { emptyRehearsal, rehearsalId } from './hand.ts';
import { stepAsked, type Step } from './steps.ts';
import type { Person } from './people.ts';

export interface Run {
  /** Index in the plan. */
  readonly at: number;
  /** When it began: milliseconds of `performance.now`. */
  readonly since: number;
}

/** What is being made. */
export interface Making {
  readonly kind: 'packs' | 'plan';
  readonly progress: HomeProgress;
}

export interface PlanningNow {
  readonly run: Run | null;
  readonly making: Making | null;
  readonly packs: readonly MadeFile[];
  readonly problems: readonly Problem[];
  /** Places that the plan leaves out: their keys, for want of players, and how many for want of time. */
  readonly absent: readonly string[];
  readonly left: number;
}

const nothing: PlanningNow = { run: null, making: null, packs: [], problems: [], absent: [], left: 0 };

export class Planning {
  readonly #keeper: Keeper;
  readonly #session: Session;
  readonly #redraw: () => void;
  #now: PlanningNow = nothing;
  #work: HomeWork | null = null;

  constructor(keeper: Keeper, session: Session, redraw: () => void) {
    this.#keeper = keeper;
    this.#session = session;
    this.#redraw = redraw;
  }

  get now(): PlanningNow {
    return this.#now;
  }

  #set(change: Partial<PlanningNow>): void {
    this.#now = { ...this.#now, ...change };
    this.#redraw();
  }

  /** Today's rehearsal of a piece's ensemble; as it would begin where there is none yet, on the concert that was set before. */
  rehearsal({ ensemble }: Piece): Rehearsal {
    const day = today();
    const { records } = this.#keeper.now.state;
    const record = records.get(`rehearsal:${rehearsalId(ensemble, day)}`);
    if (record?.kind === 'rehearsal') return record.value;
    const before = journalOf(records.values()).rehearsals.findLast((one) => one.ensemble === ensemble);
    const concert = before !== undefined && before.concert >= day ? before.concert : '';
    return { ...emptyRehearsal(ensemble, day), concert, minutes: before?.minutes ?? 60 };
  }

  change(piece: Piece, change: Partial<Pick<Rehearsal, 'minutes' | 'present' | 'concert' | 'plan'>>): void {
    const now = this.rehearsal(piece);
    const key = `rehearsal:${now.id}`;
    if (!this.#keeper.now.state.records.has(key)) this.#keeper.add({ kind: 'rehearsal', value: now });
    this.#keeper.change(key, change);
  }

  /** The places of the piece on the stand as a plan needs them; players by the ids of people. */
  #places(piece: Piece, people: readonly Person[]): readonly PlanPlace[] {
    const journal = journalOf(this.#keeper.now.state.records.values());
    const personOf = (part: string): string => people.find(({ parts }) => parts.includes(part))?.id ?? part;
    return this.#session.shown.places.flatMap((place): PlanPlace[] => {
      const takes = takesAt(journal, piece.id, place.key);
      const stands = standing(takes, place.steps);
      const steps = mainSteps(place.steps);
      const step = steps[stands.step] ?? steps[0];
      return step === undefined
        ? []
        : [
            {
              piece: piece.id,
              place: place.key,
              bars: step.bars,
              step: stepKey(step),
              players: place.parts.map(personOf),
              weight: place.weight,
              standing: stands.kind,
              last: takes.at(-1)?.day ?? '',
            },
          ];
    });
  }

  /** Makes a plan from what the journal knows. `title`, `why`: in the words of the page. */
  make(piece: Piece, people: readonly Person[]): void {
    const rehearsal = this.rehearsal(piece);
    const there = people.filter(({ id }) => rehearsal.present[id] !== false);
    const plan = planRehearsal(this.#places(piece, people), {
      minutes: Math.max(5, rehearsal.minutes),
      present: there.length === people.length ? null : new Set(there.map(({ id }) => id)),
      days: rehearsal.concert === '' ? null : daysBetween(rehearsal.day, rehearsal.concert),
    });
    const printed = printedPlan('', rehearsal.minutes, plan, new Map());
    // Who is there is kept with the rehearsal as it was.
    const present = Object.fromEntries(people.map(({ id }) => [id, rehearsal.present[id] !== false]));
    this.change(piece, { plan: [...printed.items], present });
    this.#set({ run: null, absent: plan.absent.map(({ place }) => place), left: plan.left.length });
  }

  /** The plan as it may be printed; `why`: words by the key of a place, said once. */
  printed(piece: Piece, title: string, why: ReadonlyMap<string, string>): PrintedPlan {
    const { minutes, plan } = this.rehearsal(piece);
    return {
      format: 'levare.plan/1',
      title,
      minutes,
      items: plan.flatMap(({ kind, minutes: some, piece: of, place, bars, step, words }, i) =>
        kind === 'settle'
          ? []
          : [
              {
                kind,
                minutes: some,
                piece: of,
                place,
                bars,
                step,
                words:
                  words !== '' || plan.slice(0, i).some((item) => item.place === place)
                    ? words
                    : (why.get(place) ?? ''),
              },
            ],
      ),
    };
  }

  edit(piece: Piece, edit: PlanEdit): void {
    const edited = editPlan(this.printed(piece, '', new Map()), edit);
    this.change(piece, { plan: [...edited.items] });
  }

  remarks(piece: Piece): ReturnType<typeof remarksOn> {
    return remarksOn(this.printed(piece, '', new Map()));
  }

  /** The step that an item begins with, at a place of the piece on the stand. */
  stepOf({ place, step }: Rehearsal['plan'][number]): { place: ListedPlace; step: Step } | null {
    const found = this.#session.shown.places.find(({ key }) => key === place);
    const first = found?.steps.find((one) => stepKey(one) === step) ?? found?.steps[0];
    return found === undefined || first === undefined ? null : { place: found, step: first };
  }

  /** Takes up an item of the plan; beyond the last the plan is done. */
  go(piece: Piece, at: number): void {
    const item = this.rehearsal(piece).plan[at];
    if (item === undefined) {
      this.leave();
      return;
    }
    const found = this.stepOf(item);
    if (found !== null) this.#session.ask(stepAsked(found.step, this.#session.shown.asked));
    this.#set({ run: { at, since: performance.now() } });
  }

  leave(): void {
    this.#set({ run: null });
  }

  async #make(kind: Making['kind'], work: HomeWork): Promise<readonly MadeFile[]> {
    this.#work = work;
    this.#set({ making: { kind, progress: { done: 0, of: 0 } }, problems: [] });
    const made = await work.made;
    if (this.#work !== work) return [];
    this.#work = null;
    const problems = made.ok ? made.problems : made.error.code === 'stopped' ? [] : [made.error];
    this.#set({ making: null, problems });
    return made.ok ? made.value : [];
  }

  readonly #progress = (progress: HomeProgress): void => {
    const { making } = this.#now;
    if (making !== null) this.#set({ making: { ...making, progress } });
  };

  async print(plan: PrintedPlan, language: Language, name: string): Promise<void> {
    if (this.#work !== null) return;
    const files = await this.#make('plan', homeWork('plan', { plan, language }, this.#progress));
    const pdf = files.find((file) => file.name.endsWith('.pdf'));
    if (pdf !== undefined) savedFile(name, pdf.bytes);
  }

  async pack(ask: Parameters<typeof homeWork<'packs'>>[1]): Promise<void> {
    if (this.#work !== null) return;
    this.#set({ packs: [] });
    this.#set({ packs: await this.#make('packs', homeWork('packs', ask, this.#progress)) });
  }

  /** Calls off what is being made. */
  stop(): void {
    this.#work?.stop();
  }

  /** Lets go of the packs that were made, which are large. */
  forgetPacks(): void {
    if (this.#now.packs.length > 0) this.#set({ packs: [] });
  }
}
