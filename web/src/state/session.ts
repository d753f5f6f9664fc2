/** One open job: its present state, the tables of its design as they come, and the edits that go out in order. */

import { api, type Edit, type JobState, Refusal, WINDOW, withItem } from "../api/client.ts";
import type { FindingRow } from "../api/records.ts";
import { afterFrame } from "./after_frame.ts";
import { type Answer, answerAfter, NO_ANSWER } from "./answer.ts";
import type { Changes, Whole } from "./changes.ts";
import { Expecting } from "./expecting.ts";
import { FindingsTold } from "./findings_told.ts";
import { LatestTold } from "./latest_told.ts";
import { type HeadSaid, LiveLine, type RefusedSaid, type StageSaid } from "./live_line.ts";
import { followRows } from "./row_keys.ts";
import { SeenByHand } from "./seen_by_hand.ts";
import { changed, keptOnly } from "./tables.ts";
import { Trials } from "./trials.ts";

/** How long word of another revision waits for the state that belongs to it, and is then fetched. */
const SETTLED_MS = 300;

/** A fence that takes longer to design is not designed ahead: it would hold up what comes instead. */
const MOST_AHEAD_MS = 150;

/** Tells `state` (another revision, with what was asked before it), `answer` (tables), `refused`, `line` (connected or not) and `told` (a word to the person). */
export class Session extends EventTarget {
  answer: Answer = NO_ANSWER;
  /** Why no design is possible; empty where one is. */
  refused = "";
  /** Where in the job file that stands, where it is known. */
  refusedAt: readonly (string | number)[] = [];
  /** What the last edit changed whose design was whole and compared. */
  changes: Changes | null = null;
  /** The revisions that `changes` lies between. */
  changedBetween: readonly [before: number, after: number] = [0, 0];
  /** How long the last design took as far as its checks: what follows them can be ended at once. */
  private checked_ms = 0;
  private whole: (Whole & { revision: number }) | null = null;
  private readonly findings = new FindingsTold();
  isConnected = false;
  private line: LiveLine | null = null;
  private readonly trials: Trials;
  private readonly expecting: Expecting;
  private queue: Promise<unknown> = Promise.resolve();
  /** The newest trial that is shown. */
  private tried = 0;
  private readonly latest = new LatestTold();
  /** The revision that the stream says the job is at. */
  private headTold = 0;
  /** Own calls under way that may lead to another revision. */
  private asking = 0;
  private readonly hand = new SeenByHand(() => this.state);
  private settling: ReturnType<typeof setTimeout> | undefined;
  private isClosed = false;
  /** The stream has sent its tables whole. */
  private isBegun = false;
  private wasLost = false;

  private constructor(public state: JobState) {
    super();
    this.trials = new Trials(state.id, () => this.hand.base ?? this.state.head);
    this.expecting = new Expecting(state.id, () => this.baseAhead);
  }

  static async open(id: string): Promise<Session> {
    const session = new Session(await api.job(id));
    session.listen();
    return session;
  }

  close(): void {
    this.isClosed = true;
    this.line?.close();
  }

  /** Whether `changes` are of the design that is shown: it is whole and compared. */
  get isCompared(): boolean {
    return this.changedBetween[1] === this.answer.revision && this.answer.pending.length === 0;
  }

  /** Whether the design that is shown is not yet that of the job as it is. */
  get isBehind(): boolean {
    return this.answer.revision !== this.state.head;
  }

  private tell(name: string, detail?: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  private listen(): void {
    this.line = new LiveLine(this.state.id, {
      began: () => this.began(),
      lost: () => {
        this.wasLost = true;
        this.setConnected(false);
      },
      stage: (said) => this.took(said),
      refused: (said) => this.tookRefused(said),
      head: (said) => this.tookHead(said),
    });
  }

  /** A stream sends its tables whole when it begins; till then what was known before can be read. */
  private began(): void {
    this.isBegun = false;
    this.headTold = 0;
    if (this.wasLost) void this.catchUp();
    this.setConnected(true);
  }

  private tookHead({ revision, window, label }: HeadSaid): void {
    this.headTold = revision;
    if (window !== WINDOW && revision !== this.state.head) void this.refresh(label);
    else this.settleSoon();
  }

  /** The program is back: another window may have gone on meanwhile, or an edit have been kept whose answer was lost. */
  private async catchUp(): Promise<void> {
    const state = await this.stateNow();
    if (!state) return;
    this.wasLost = false;
    if (state.head === this.state.head) return;
    this.heard(state);
    this.tell("told", { key: "back_at", values: { number: String(state.head) } });
  }

  private setConnected(isConnected: boolean): void {
    if (this.isConnected === isConnected || this.isClosed) return;
    this.isConnected = isConnected;
    this.tell("line");
  }

  /** An answer to an older revision, or to a trial that is over, never overwrites a newer one. */
  private isOld(revision: number, trial: number | null): boolean {
    return revision < this.state.head || (trial !== null && trial < this.tried);
  }

  private took(said: StageSaid): void {
    // The tables are differences: they are always taken, so that the next difference fits; only older words are dropped.
    const tables = changed(this.isBegun ? this.answer.tables : {}, said.tables);
    this.isBegun = true;
    this.beginsAt(said);
    this.answer = { ...this.answer, tables };
    this.hearOnce(said, () => this.hear(said));
  }

  private tookRefused(said: RefusedSaid): void {
    if (said.kept) {
      this.answer = { ...this.answer, tables: keptOnly(this.isBegun ? this.answer.tables : {}, said.kept) };
      this.isBegun = true;
    }
    this.beginsAt(said);
    this.hearOnce(said, () => this.hearRefused(said));
  }

  /** Hear now what is of the revision that is shown, or newer; what is older is of no use, unless undo leads back to it. */
  private hearOnce({ revision, trial }: { revision: number; trial: number | null }, hear: () => void): void {
    const isOld = this.isOld(revision, trial);
    if (trial === null) this.latest.take(revision, isOld, hear);
    else if (!isOld) hear();
  }

  private hear(said: StageSaid): void {
    this.refused = "";
    if (said.stage === "pulls") this.checked_ms = said.elapsed_ms;
    this.hearFindings(said);
    this.answer = answerAfter(this.answer, said, this.findings);
    if (said.trial !== null) this.tried = said.trial;
    else if (said.pending.length === 0) this.compareSoon(said.revision);
    this.tell("answer", said.stage);
  }

  private hearRefused({ revision, error, kept }: RefusedSaid): void {
    this.refused = withItem(error);
    this.refusedAt = error.field;
    this.changes = null; // they are those of the edit before
    if (kept) this.findings.takeLast(revision);
    else this.findings.endEarly(revision);
    const { tables, sheets, unit_m, bands } = this.answer;
    const shown = kept ? { ...NO_ANSWER, tables, sheets, unit_m, bands } : this.answer;
    this.answer = { ...shown, revision, findings: this.findings.shown, pending: [], mayBeBuilt: null };
    this.tell("refused");
  }

  /** Findings grow from stage to stage: the list of the design before stands until the checks are made. */
  private hearFindings({ revision, stage, values }: StageSaid): void {
    const told = values.findings as FindingRow[] | undefined;
    if (!told) return;
    this.findings.hear(revision, told);
    if (stage === "design") this.findings.takeAll(revision, told);
    else if (stage === "pulls" || this.answer.digest === "") this.findings.takeEarly(revision, told);
  }

  /** A task of its own, after the frame that shows the answer. */
  private compareSoon(revision: number): void {
    afterFrame(() => void this.compare(revision));
  }

  /** Compare a whole design with the one before it. How that is done is fetched with the first, which has none before. */
  private async compare(revision: number): Promise<void> {
    const comparing = await import("./changes.ts").catch(() => null); // the stream says when the line is back
    const { tables, summary, pending } = this.answer;
    if (this.isClosed || this.answer.revision !== revision || pending.length || !summary) return;
    const now = { tables, summary, revision };
    if (this.whole && this.whole.revision !== revision) {
      this.changes = comparing?.changesOf(this.whole, now) ?? null;
      this.changedBetween = [this.whole.revision, revision];
    }
    this.whole = now;
    this.tell("answer", "changes");
  }

  /** Take the job as another window left it, and say what that did; empty where a refusal says it. */
  private async refresh(label: string): Promise<void> {
    const state = await this.stateNow();
    if (!state) return;
    this.heard(state);
    if (label) this.tell("told", { key: "other_window", values: { label } });
  }

  /** Take a state that the hand has not made itself, or has led back to. */
  private heard(state: JobState): void {
    this.hand.comes();
    this.setState(state);
  }

  /** The state that the hand sees: the newest, but for the moment till it is drawn. */
  get seen(): JobState {
    return this.hand.state;
  }

  /** The state is drawn. */
  drawn(): void {
    this.hand.drawn();
  }

  /** The job as the program has it; null without a line: the stream says when that is back. */
  private stateNow(): Promise<JobState | null> {
    return api.job(this.state.id).catch(() => null);
  }

  private setState(state: JobState): void {
    const { asked } = this.state;
    followRows(asked, state.asked);
    this.state = state;
    this.tell("state", asked);
    this.latest.comeTo(state.head);
    this.settleSoon();
  }

  /** A stream begins with an answer to the job as it is: another window may have gone on since the state was read. */
  private beginsAt({ revision, trial }: { revision: number; trial: number | null }): void {
    if (this.headTold || trial !== null) return;
    this.headTold = revision;
    this.settleSoon();
  }

  /** Calls overtake each other: where the state is not of the revision that the stream says, it is fetched again. */
  private settleSoon(): void {
    clearTimeout(this.settling);
    if (this.headTold && this.headTold !== this.state.head)
      this.settling = setTimeout(() => void this.settle(), SETTLED_MS);
  }

  private async settle(): Promise<void> {
    if (this.isClosed || !this.isConnected || this.headTold === this.state.head) return;
    const state = this.asking === 0 ? await this.stateNow() : null;
    if (state && this.asking === 0) this.heard(state);
    else this.settleSoon();
  }

  /** Edits go out one after another, each on the revision that the one before it made. */
  private inOrder<Result>(act: () => Promise<Result>): Promise<Result> {
    this.asking += 1;
    const next = this.queue.then(act, act).finally(() => {
      this.asking -= 1;
    });
    this.queue = next.catch(() => undefined);
    return next;
  }

  /**
   * Ask for an edit; gives the refusal, or nothing where it was accepted. A refusal that stands at its own field
   * (`atField`) is not told again over the page.
   */
  async edit(edit: Edit, atField = false): Promise<Refusal | null> {
    this.trials.drop();
    this.expecting.drop();
    const { base } = this.hand; // where rows get other numbers meanwhile, the program finds what was meant
    const sent = this.hand.sends(edit);
    try {
      const answer = await this.inOrder(() => api.edit(this.state.id, base ?? this.state.head, edit));
      // let go where it was, no window is told of it; or what was tried comes yet, where undo may have led back to
      if (answer.state.head === this.state.head || this.trials.isUnderWay) void this.endShown();
      sent.accepted();
      this.setState(answer.state);
      if (answer.merged_with.length)
        this.tell("told", { key: "merged", values: { with: answer.merged_with.join("; ") } });
      return null;
    } catch (error) {
      return this.refusedBy(error, atField);
    } finally {
      sent.over();
    }
  }

  private async refusedBy(error: unknown, atField = false): Promise<Refusal> {
    void this.endShown();
    const refusal =
      error instanceof Refusal
        ? error
        : new Refusal({
            sentence: String(error),
            file: "",
            item: "",
            field: [],
            code: "fault",
            head: null,
            kept: null,
          });
    if (refusal.told.code === "moved" || refusal.told.code === "clash") await this.refresh("");
    if (!atField) this.tell("told", refusal.isLost ? { key: "lost" } : { sentence: withItem(refusal.told) });
    return refusal;
  }

  /** Show what an edit would give while a hand drags; the newest waits while one is under way. */
  try(edit: Edit): void {
    this.trials.try(edit);
  }

  /** Have designed ahead what will probably be asked: the value that is being typed, the button under the hand. */
  expect(edit: Edit): void {
    this.expecting.expect(edit);
  }

  /** The revision on which what is expected is designed; null where nothing is. */
  private get baseAhead(): number | null {
    const isFree =
      this.isConnected && this.asking === 0 && !this.trials.isHeld && this.checked_ms < MOST_AHEAD_MS;
    return isFree && this.hand.base === null ? this.state.head : null;
  }

  /** Show the job itself again: nothing stays of what a hand tried. */
  async endTry(): Promise<void> {
    this.trials.drop();
    await this.endShown();
  }

  private async endShown(): Promise<void> {
    if (this.isConnected) await this.trials.end(); // without a line there is none
  }

  async undo(): Promise<void> {
    await this.move("undo");
  }

  async redo(): Promise<void> {
    await this.move("redo");
  }

  /** Pressed more often than there are revisions, it stays at the last. */
  private async move(way: "undo" | "redo"): Promise<void> {
    const act = async () => (this.state[way] ? api[way](this.state.id, this.state.head) : null);
    try {
      const state = await this.inOrder(act);
      if (state) this.heard(state);
    } catch (error) {
      await this.refusedBy(error);
    }
  }

  /** Take a state that another call gave. */
  adopt(state: JobState): void {
    this.heard(state);
  }
}
