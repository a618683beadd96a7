/** The shelf behind the page: what is open is noted as it changes; what is set for it reaches the page. */
import {
  ensemblesOf,
  firstEnsemble,
  isShelfFile,
  keysOfPiece,
  newEnsemble,
  newPiece,
  pieceHash,
  pieceId,
  piecesOf,
  pieceTitle,
  readShelfFile,
  shelfFile,
  ShelfKeeper,
  type Overview,
  type Piece,
  type Plain,
  type ShelfContent,
  type ShelfPort,
  type ShelfRecord,
} from '../../desk/index.ts';
import { freshTag, pickedFile, savedFile, setTabNote, tabNote } from '../../host/browser/index.ts';
import { ok, problem, type Problem, type Result } from '../../units/index.ts';
import type { Asked } from '../asked.ts';
import { demoAsked, demoPiece } from '../demo.ts';
import type { MarkChange } from '../marked.ts';
import type { Session } from '../session.ts';
import type { Keeping, Removed } from './kept.ts';
import { lastPlace } from './place.ts';
import { bare, countedWords, homesFor, movedTo, withoutEnding } from './records.ts';
import { soundIn } from './keptSound.ts';
import { askedIn, settingsOf } from './settings.ts';
import { Standing } from './standing.ts';
import type { Words } from '../words/index.ts';

export class Keeper {
  readonly #session: Session;
  readonly #port: ShelfPort;
  readonly #keeper: ShelfKeeper;
  readonly #standing: Standing;
  readonly #redraw: () => void;
  readonly #words: () => Words;
  readonly #trouble: Problem | null;
  #ready = false;
  #ensemble: string = firstEnsemble;
  #removed: Removed | null = null;
  /** The piece on the stand with its score, after it was taken off the shelf. */
  #gone: ShelfContent | null = null;
  #onStand: ShelfContent = { records: new Map(), scores: new Map() };
  #said: Keeping['said'] = null;
  #opened: Keeping['opened'] = null;
  #lasting = false;
  /** Whether the players have done anything yet. */
  #touched = false;

  /** `words`: what the page says, in the language that it speaks now. */
  constructor(
    port: ShelfPort,
    trouble: Problem | null,
    session: Session,
    redraw: () => void,
    words: () => Words,
  ) {
    this.#words = words;
    this.#port = port;
    this.#trouble = trouble;
    this.#session = session;
    this.#redraw = redraw;
    this.#keeper = new ShelfKeeper(port, freshTag(), (removed) => this.#changed(removed));
    this.#standing = new Standing(
      session,
      () => this.#records,
      (piece, change) => {
        if ('asked' in change) this.#opened = null;
        this.change(`piece:${piece.id}`, change);
      },
    );
    session.onMarks((changes) => void this.#keepMarks(changes));
  }

  get now(): Keeping {
    return {
      ready: this.#ready,
      state: this.#keeper.state,
      trouble: this.#trouble,
      piece: this.#standing.piece,
      ensemble: this.#ensemble,
      removed: this.#removed,
      gone: this.#gone !== null,
      said: this.#said,
      opened: this.#opened,
      lasting: this.#lasting,
      shift: this.#standing.shift,
    };
  }

  get #records(): ReadonlyMap<string, ShelfRecord> {
    return this.#keeper.state.records;
  }
  #pieceOf(id: string): Piece | null {
    const record = this.#records.get(`piece:${id}`);
    return record?.kind === 'piece' ? record.value : null;
  }

  /** Reads the shelf and opens what was open; on the first visit the demo piece is put there. */
  async start(): Promise<void> {
    const wasUnkept = tabNote('unkept') !== null;
    await this.#keeper.start();
    this.#ready = true;
    const last = lastPlace() ?? { piece: await this.#port.note('place'), asked: undefined };
    const piece = last.piece === null ? null : this.#pieceOf(last.piece);
    if (piece !== null) {
      this.#ensemble = piece.ensemble;
      this.#opened = wasUnkept ? 'unsure' : 'restored';
      setTabNote('unkept', null);
      await this.#stand(piece, last.asked);
      return;
    }
    if (this.#records.size === 0 && (await this.#port.note('started')) === null) {
      await this.#putDemo();
      return;
    }
    const [first] = ensemblesOf(this.#records).flatMap(({ id }) => piecesOf(this.#records, id));
    if (first === undefined) location.hash = '#shelf';
    else await this.#stand(first);
  }

  async #putDemo(): Promise<void> {
    const demo = await demoPiece();
    if (!demo.ok) {
      this.#session.refuse(demo.error);
      return;
    }
    await this.#add(demo.value, 'demo', demoAsked);
    this.#touched = false;
    await this.#port.setNote('started', 'yes');
  }

  /** After a change of the shelf, here or in another window. */
  #changed(removed: readonly string[]): void {
    if (!this.#keeper.state.unkept) setTabNote('unkept', null);
    const { id, piece } = this.#standing;
    if (id !== null && piece === null && removed.includes(`piece:${id}`)) this.#takeOff();
    if (piece !== null) {
      this.#onStand = {
        ...this.#onStand,
        records: new Map([[`piece:${piece.id}`, { kind: 'piece', value: piece }]]),
      };
      this.#standing.follow();
    }
    this.#redraw();
  }

  /** Told after everything that changes on the page. */
  noticed(): void {
    this.#standing.noticed();
  }

  /** The bytes of a piece's score; null where they are not on the shelf. */
  async scoreOf({ score }: Piece): Promise<Uint8Array | null> {
    const bytes = await this.#keeper.score(score);
    return bytes.ok ? bytes.value : null;
  }

  /** Changes fields of a record. */
  change(key: string, change: Plain): void {
    setTabNote('unkept', 'yes');
    this.#touched = true;
    this.#keeper.change(key, change);
  }

  #put(records: Iterable<ShelfRecord>, scores: ReadonlyMap<string, Uint8Array> = new Map()): void {
    setTabNote('unkept', 'yes');
    this.#touched = true;
    this.#keeper.put(records, scores);
    void this.#port.lasting().then((lasting) => {
      this.#lasting = lasting;
      this.#redraw();
    });
  }

  /** Opens a piece of the shelf, as it was left or with another drill. */
  async open(id: string, asked?: Asked): Promise<void> {
    const piece = this.#pieceOf(id);
    if (piece === null) return;
    this.#ensemble = piece.ensemble;
    if ((await this.#stand(piece, asked)) && location.hash === '#shelf') location.hash = '';
  }

  /** Puts a piece on the stand; false where its score is not there or cannot be read. */
  async #stand(piece: Piece, asked = askedIn(piece.asked)): Promise<boolean> {
    const score = await this.#keeper.score(piece.score);
    if (!score.ok || score.value === null) {
      const missing = problem(
        'error',
        'shelf-score-missing',
        this.#words().settings.missing(pieceTitle(piece)),
      );
      const error = score.ok ? missing : score.error;
      this.#said = { words: '', problems: [error] };
      this.#session.refuse(error);
      return false;
    }
    const opened = await this.#session.open(
      score.value,
      asked,
      settingsOf(piece, this.#records),
      soundIn(piece.sound),
    );
    if (opened.ok) this.#take(piece, score.value, opened.value);
    return opened.ok;
  }

  /** What the session shows is this piece. */
  #take(piece: Piece, bytes: Uint8Array, shown: Overview): void {
    this.#standing.take(piece, shown);
    this.#gone = null;
    this.#onStand = {
      records: new Map([[`piece:${piece.id}`, { kind: 'piece', value: piece }]]),
      scores: new Map([[piece.score, bytes]]),
    };
    void this.#port.setNote('place', piece.id);
    this.noticed();
    this.#redraw();
  }

  /** A file that was picked or dropped: a score, or a shelf that was taken along. */
  async openFile(file: File): Promise<Result<null>> {
    const picked = await pickedFile(file);
    if (!picked.ok) {
      this.#said = { words: '', problems: [picked.error] };
      this.#session.refuse(picked.error);
      return picked;
    }
    if (isShelfFile(picked.value)) return this.bringIn(picked.value);
    return this.#add(picked.value, withoutEnding(file.name));
  }

  /** A bar plan, typed by the players. */
  newPlan(text: string): Promise<Result<null>> {
    return this.#add(new TextEncoder().encode(`${text.trim()}\n`), this.#words().shelf.planName);
  }

  async #add(bytes: Uint8Array, file: string, asked?: Asked): Promise<Result<null>> {
    const hash = pieceHash(bytes);
    const known = this.#pieceOf(pieceId(this.#ensemble, hash));
    const opened = await this.#session.open(
      bytes,
      known === null ? asked : askedIn(known.asked),
      known === null ? undefined : settingsOf(known, this.#records),
      known === null ? undefined : soundIn(known.sound),
    );
    if (!opened.ok) {
      this.#said = { words: '', problems: [opened.error] };
      this.#redraw();
      return opened;
    }
    const made = newPiece(this.#ensemble, hash, { file, found: opened.value.look.title });
    // What is shown of a piece at first is no change of it.
    const piece = known ?? { ...made, asked: { ...asked } };
    const home = this.#records.get(`ensemble:${this.#ensemble}`);
    this.#said = null;
    this.#put(
      [home ?? { kind: 'ensemble', value: newEnsemble(this.#ensemble, '') }, { kind: 'piece', value: piece }],
      new Map([[hash, bytes]]),
    );
    this.#take(piece, bytes, opened.value);
    if (location.hash === '#shelf') location.hash = '';
    return ok(null);
  }

  /** Merges a shelf that was taken along into this one. */
  bringIn(bytes: Uint8Array): Result<null> {
    const read = readShelfFile(bytes);
    if (read.ok) {
      this.#said = { words: countedWords(read.value, this.#records, this.#words()), problems: read.problems };
      this.#put(read.value.records.values(), read.value.scores);
      location.hash = '#shelf';
      return ok(null);
    }
    this.#said = { words: '', problems: [read.error] };
    this.#session.refuse(read.error);
    this.#redraw();
    return read;
  }

  /** Gives records with their scores as a file of this name. */
  async takeAlong(keys: Iterable<string>, name: string): Promise<void> {
    const content = await this.#keeper.content(keys);
    if (content.ok) savedFile(this.#words().shelf.fileName(bare(name)), shelfFile(content.value));
    else this.#said = { words: '', problems: [content.error] };
    this.#redraw();
  }

  /** Removes records; they can be put back until the page is loaded anew, or something else is removed; or not (`forGood`). */
  async remove(keys: readonly string[], title: string, forGood = false): Promise<void> {
    if (keys.includes(`ensemble:${this.#ensemble}`)) this.#ensemble = firstEnsemble;
    const removed = await this.#keeper.remove(keys);
    if (removed.ok) this.#removed = forGood ? null : { title, content: removed.value };
    else this.#said = { words: '', problems: [removed.error] };
    if (removed.ok && this.#standing.id !== null && keys.includes(`piece:${this.#standing.id}`))
      this.#takeOff();
    this.#redraw();
  }

  /** The piece stays on the stand, and can be put back from there. */
  #takeOff(): void {
    this.#gone = this.#onStand;
    this.#standing.leave();
  }

  /** Puts back what was removed last. */
  undo(): void {
    if (this.#removed === null) return;
    const { records, scores } = this.#removed.content;
    this.#removed = null;
    this.#put(records.values(), scores);
    this.#reopen(records);
  }

  /** Puts the piece on the stand back on the shelf. */
  putBack(): void {
    if (this.#gone === null) return;
    const { records, scores } = this.#gone;
    const homes = homesFor(records, this.#records);
    this.#put([...homes, ...records.values()], scores);
    this.#reopen(records);
  }

  /** What stands on the stand is kept again. */
  #reopen(records: ReadonlyMap<string, ShelfRecord>): void {
    for (const key of this.#gone?.records.keys() ?? []) {
      if (!records.has(key) || !this.#standing.isShown) continue;
      this.#gone = null;
      this.#standing.keepAs(key.slice('piece:'.length));
    }
    this.#redraw();
  }

  chooseEnsemble(id: string): void {
    this.#ensemble = id;
    this.#redraw();
  }

  addEnsemble(name: string): void {
    const id = freshTag();
    this.#put([{ kind: 'ensemble', value: newEnsemble(id, name) }]);
    this.chooseEnsemble(id);
  }

  /** A piece with all that is kept about it, from one ensemble's shelf to another's. */
  async move(piece: Piece, ensemble: string): Promise<void> {
    const content = await this.#keeper.content(keysOfPiece(this.#records, piece.id));
    if (!content.ok) return;
    const id = pieceId(ensemble, piece.score);
    const moved = movedTo(ensemble, piece, content.value, freshTag);
    this.#put(moved, content.value.scores);
    const wasOpen = this.#standing.id === piece.id;
    await this.remove(keysOfPiece(this.#records, piece.id), pieceTitle(piece));
    this.#removed = null;
    if (!wasOpen) return;
    this.#gone = null;
    this.#ensemble = ensemble;
    this.#standing.keepAs(id);
    void this.#port.setNote('place', id);
    this.#redraw();
  }

  /** Markings that were made, rubbed out, or gone back from. */
  async #keepMarks(changes: readonly MarkChange[]): Promise<void> {
    const made = changes.flatMap(({ marking }) => (marking === null ? [] : [marking]));
    const gone = changes.flatMap(({ id, marking }) => (marking === null ? [`marking:${id}`] : []));
    if (made.length > 0) this.#put(made.map((value): ShelfRecord => ({ kind: 'marking', value })));
    const removed = gone.length > 0 ? await this.#keeper.remove(gone) : null;
    if (removed?.ok === false) this.#said = { words: '', problems: [removed.error] };
    this.#redraw();
  }

  /** Puts one more record on the shelf. */
  add(record: ShelfRecord): void {
    this.#put([record]);
  }

  /** Before the window goes: whether something would be lost with it. */
  get wouldLose(): boolean {
    if (this.#trouble !== null) return this.#touched;
    return this.#keeper.state.unkept && this.#keeper.state.trouble !== null;
  }
}
