/** One open job: its present state, the tables of its design as they come, and the edits that go out in order. */

import { api, type Edit, type JobState, Refusal, WINDOW, withItem } from "../api/client.ts";
import type { FindingRow, Summary } from "../api/records.ts";
import type { System } from "../units/show.ts";
import { afterFrame } from "./after_frame.ts";
import type { Changes, Whole } from "./changes.ts";
import type { Bands } from "./drawn.ts";
import { FindingsTold } from "./findings_told.ts";
import { changed, type TableChange, type Tables } from "./tables.ts";

interface StageSaid {
  revision: number;
  trial: number | null;
  stage: string;
  pending: string[];
  elapsed_ms: number;
  tables: Record<string, TableChange>;
  values: Record<string, unknown>;
}

export interface Answer {
  /** Revision that it answers; 0 before there is any. */
  revision: number;
  tables: Tables;
  findings: readonly FindingRow[];
  /** Codes of those findings that only a whole design tells: while it is still to come, they are of the one before. */
  late: ReadonlySet<string>;
  summary: Summary | null;
  digest: string;
  sheets: System;
  bands: Bands | null;
  /** Metres in a unit of the plane's own system. */
  unit_m: number;
  mayBeBuilt: boolean | null;
  /** Stages still to come. */
  pending: readonly string[];
  elapsed_ms: number;
}

/** How long a refused stream is left alone. */
const AGAIN_MS = 3000;

/** Letters of an answer whose reading is a task by itself: what it draws is another. */
const LARGE = 200_000;

const NO_ANSWER: Answer = {
  revision: 0,
  tables: {},
  findings: [],
  late: new Set(),
  summary: null,
  digest: "",
  sheets: "us",
  bands: null,
  unit_m: 1,
  mayBeBuilt: null,
  pending: [],
  elapsed_ms: 0,
};

/** Tells `state` (another revision), `answer` (tables), `refused`, `line` (connected or not) and `told` (a word to the person). */
export class Session extends EventTarget {
  answer: Answer = NO_ANSWER;
  /** Why no design is possible; empty where one is. */
  refused = "";
  /** What the last edit changed whose design was whole and compared. */
  changes: Changes | null = null;
  /** The revisions that `changes` lies between. */
  changedBetween: readonly [before: number, after: number] = [0, 0];
  private whole: (Whole & { revision: number }) | null = null;
  private readonly findings = new FindingsTold();
  isConnected = false;
  private stream: EventSource | null = null;
  private queue: Promise<unknown> = Promise.resolve();
  private trial = 0;
  private tried = 0;
  /** Answers to an earlier revision: where it is the one that undo leads back to, they came before word of it. */
  private early: StageSaid[] = [];
  /** Answers that have been read and not yet taken. */
  private heard: StageSaid[] = [];
  private waiting: Edit | null = null;
  private isTrying = false;
  private trying: Promise<void> = Promise.resolve();
  private isClosed = false;
  /** The stream has sent its tables whole. */
  private isBegun = false;
  private wasLost = false;

  private constructor(public state: JobState) {
    super();
  }

  static async open(id: string): Promise<Session> {
    const session = new Session(await api.job(id));
    session.listen();
    return session;
  }

  close(): void {
    this.isClosed = true;
    this.stream?.close();
  }

  /** Whether `changes` are of the design that is shown: it is whole and compared. */
  get isCompared(): boolean {
    return this.changedBetween[1] === this.answer.revision && this.answer.pending.length === 0;
  }

  private tell(name: string, detail?: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  private listen(): void {
    const stream = new EventSource(api.liveAddress(this.state.id));
    this.stream = stream;
    stream.addEventListener("open", () => {
      this.takeHeard();
      // A stream sends its tables whole when it begins; till then what was known before can be read.
      this.isBegun = false;
      if (this.wasLost) void this.catchUp();
      this.setConnected(true);
    });
    stream.addEventListener("error", () => {
      this.wasLost = true;
      this.setConnected(false);
      if (stream.readyState === EventSource.CLOSED) this.listenLater();
    });
    stream.addEventListener("stage", (event) => {
      const { data } = event as MessageEvent<string>;
      this.takeHeard();
      this.heard.push(JSON.parse(data) as StageSaid);
      if (data.length < LARGE) this.takeHeard();
      else setTimeout(() => this.takeHeard());
    });
    stream.addEventListener("refused", (event) => {
      this.takeHeard();
      const said = JSON.parse((event as MessageEvent<string>).data) as {
        revision: number;
        trial: number | null;
        error: { item: string; sentence: string };
      };
      if (this.isOld(said.revision, said.trial)) return;
      this.refused = withItem(said.error);
      this.changes = null; // they are those of the edit before
      this.findings.endEarly(said.revision);
      this.answer = { ...this.answer, findings: this.findings.shown, pending: [], mayBeBuilt: null };
      this.tell("refused");
    });
    stream.addEventListener("head", (event) => {
      const said = JSON.parse((event as MessageEvent<string>).data) as {
        revision: number;
        window: string;
        label: string;
      };
      if (said.window !== WINDOW && said.revision !== this.state.head) void this.refresh(said.label);
    });
  }

  /** A stream that was refused, not merely cut, does not begin again by itself. */
  private listenLater(): void {
    setTimeout(() => {
      if (!this.isClosed) this.listen();
    }, AGAIN_MS);
  }

  /**
   * Another window may have gone on while the line was lost, or between the state and the stream of a page that opens; or
   * an edit have been kept whose answer was lost.
   */
  private async catchUp(): Promise<void> {
    try {
      const state = await api.job(this.state.id);
      const { wasLost } = this;
      this.wasLost = false;
      if (state.head === this.state.head) return;
      this.setState(state);
      if (wasLost) this.tell("told", { key: "back_at", values: { number: String(state.head) } });
    } catch {
      // the stream says when the line is back
    }
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

  /** Take what has been read, in the order in which it was told. */
  private takeHeard(): void {
    for (const said of this.heard.splice(0)) if (!this.isClosed) this.took(said);
  }

  private took(said: StageSaid): void {
    // The tables are differences: they are always taken, so that the next difference fits; only older words are dropped.
    const tables = changed(this.isBegun ? this.answer.tables : {}, said.tables);
    if (!this.isBegun && said.revision !== this.state.head) void this.catchUp();
    this.isBegun = true;
    if (this.isOld(said.revision, said.trial)) {
      this.answer = { ...this.answer, tables };
      if (said.trial === null) this.early.push(said);
      return;
    }
    this.early = [];
    this.hear(said, tables);
  }

  private hear(said: StageSaid, tables: Tables): void {
    this.refused = "";
    const { values } = said;
    this.hearFindings(said);
    this.answer = {
      revision: said.revision,
      tables,
      findings: this.findings.shown,
      late: this.findings.late,
      summary: (values.summary as Summary | undefined) ?? this.answer.summary,
      digest: (values.digest as string | undefined) ?? this.answer.digest,
      sheets: (values.sheets as System | undefined) ?? this.answer.sheets,
      unit_m: (values.plane as { unit_m: number } | undefined)?.unit_m ?? this.answer.unit_m,
      bands: (values.bands as Bands | undefined) ?? this.answer.bands,
      mayBeBuilt: (values.may_be_built as boolean | undefined) ?? this.answer.mayBeBuilt,
      pending: said.pending,
      elapsed_ms: said.elapsed_ms,
    };
    if (said.trial !== null) this.tried = said.trial;
    else if (said.pending.length === 0) this.compareSoon(said.revision);
    this.tell("answer", said.stage);
  }

  /** Findings grow from stage to stage: the list of the design before stands until the checks are made. */
  private hearFindings({ revision, stage, values }: StageSaid): void {
    const told = values.findings as FindingRow[] | undefined;
    if (!told) return;
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

  private async refresh(label: string): Promise<void> {
    try {
      this.setState(await api.job(this.state.id));
      this.tell("told", { key: "other_window", values: { label } });
    } catch {
      // the stream says when the line is back
    }
  }

  private setState(state: JobState): void {
    this.state = state;
    const early = this.early.filter((said) => said.revision === state.head);
    this.early = [];
    this.tell("state");
    for (const said of early) this.hear(said, this.answer.tables);
  }

  /** Edits go out one after another, each on the revision that the one before it made. */
  private inOrder<Result>(act: () => Promise<Result>): Promise<Result> {
    const next = this.queue.then(act, act);
    this.queue = next.catch(() => undefined);
    return next;
  }

  /**
   * Ask for an edit; gives the refusal, or nothing where it was accepted. A refusal that stands at its own field
   * (`atField`) is not told again over the page.
   */
  async edit(edit: Edit, atField = false): Promise<Refusal | null> {
    this.waiting = null;
    try {
      const answer = await this.inOrder(() => api.edit(this.state.id, this.state.head, edit));
      if (answer.state.head === this.state.head) void this.endTry(); // let go where it was: no window is told of it
      this.setState(answer.state);
      if (answer.merged)
        this.tell("told", { key: "merged", values: { with: answer.merged_with.join("; ") } });
      return null;
    } catch (error) {
      return this.refusedBy(error, atField);
    }
  }

  private async refusedBy(error: unknown, atField = false): Promise<Refusal> {
    void this.endTry();
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
    this.waiting = edit;
    if (!this.isTrying) this.trying = this.tryNext();
  }

  /** Show the job itself again: nothing stays of what a hand tried. */
  async endTry(): Promise<void> {
    this.waiting = null;
    await this.trying;
    if (this.trial && !this.waiting && this.isConnected)
      await api.endTrial(this.state.id).catch(() => undefined); // without a line there is no trial either
  }

  private async tryNext(): Promise<void> {
    this.isTrying = true;
    while (this.waiting) {
      const edit = this.waiting;
      this.waiting = null;
      this.trial += 1;
      try {
        await api.trial(this.state.id, this.state.head, this.trial, edit);
      } catch {
        // a trial that cannot be is not shown; letting go says why
      }
    }
    this.isTrying = false;
  }

  async undo(): Promise<void> {
    await this.move(api.undo);
  }

  async redo(): Promise<void> {
    await this.move(api.redo);
  }

  private async move(way: (id: string, base: number) => Promise<JobState>): Promise<void> {
    try {
      this.setState(await this.inOrder(() => way(this.state.id, this.state.head)));
    } catch (error) {
      await this.refusedBy(error);
    }
  }

  /** Take a state that another call gave. */
  adopt(state: JobState): void {
    this.setState(state);
  }
}
