/** Backgrounds of a job's plan: which of its files are shown, how strongly, and what the program says of each. */

import { api, type BackgroundAnswer, type JobState } from "../api/client.ts";

export interface Choice {
  isShown: boolean;
  /** 0 to 1. */
  opacity: number;
}

/** The name under which the terrain's contours and shading are chosen; no file can have it. */
export const TERRAIN = ":terrain";

const KINDS = /\.(tiff?|png|jpe?g|geojson|json|gpx|kml|shp|gpkg|dxf|csv|xml|landxml)$/i;
const USUAL: Choice = { isShown: false, opacity: 0.85 };
const USUAL_TERRAIN: Choice = { isShown: true, opacity: 1 };
const NOT_REACHED = { bounds_m: [], cell_m: 0, shown_cell_m: 0, address: "", features: [], plane: "" };

/** Tells `change` (a choice or an answer), `handed` (files dropped on the page) and `go` (to a background's place). */
export class Backgrounds extends EventTarget {
  /** What each file that was asked about shows. */
  readonly answers = new Map<string, BackgroundAnswer>();
  /** Files that are being asked about, with how many questions. */
  readonly asking = new Map<string, number>();
  /** Files dropped on the page that the panel has not taken yet. */
  handed: readonly File[] = [];
  private readonly choices: Record<string, Choice>;
  private job: JobState | null = null;
  private placedBy = "";

  constructor(readonly jobId: string) {
    super();
    this.choices = kept(this.keptAs);
  }

  private get keptAs(): string {
    return `fencewright-backgrounds-${this.jobId}`;
  }

  /** Files of the job that may be shown, in its order: its price book is a sheet, but no map. */
  get paths(): string[] {
    const { book } = (this.job?.asked.price ?? {}) as Record<string, unknown>;
    const held = (this.job?.files ?? []).map((file) => file.path);
    return held.filter((path) => KINDS.test(path) && path !== book);
  }

  choice(path: string): Choice {
    return this.choices[path] ?? (path === TERRAIN ? USUAL_TERRAIN : USUAL);
  }

  /** Follow the job: where its files or its plane have changed, what is shown is asked for again. */
  follow(job: JobState): void {
    this.job = job;
    const placedBy = placing(job);
    if (placedBy === this.placedBy) return;
    this.placedBy = placedBy;
    const asked = this.paths.filter((path) => this.answers.has(path) || this.choice(path).isShown);
    for (const path of [...this.answers.keys()]) if (!asked.includes(path)) this.answers.delete(path);
    this.tell("change");
    for (const path of asked) void this.ask(path);
  }

  /** Ask what a file shows. */
  async ask(path: string): Promise<BackgroundAnswer | null> {
    const { placedBy } = this;
    let answer: BackgroundAnswer;
    this.count(path, 1);
    try {
      answer = await api.background(this.jobId, path);
    } catch (error) {
      const sentence = error instanceof Error ? error.message : "";
      if (!sentence) return null; // the page says already that the program cannot be reached
      answer = { ...NOT_REACHED, path, kind: "none", sentence, needs_unit: false };
    } finally {
      this.count(path, -1);
    }
    if (placedBy !== this.placedBy || !this.paths.includes(path)) return null;
    this.answers.set(path, answer);
    this.tell("change");
    return answer;
  }

  /** Show a file or not; where it lies out of sight, the plan goes there. */
  async show(path: string, isShown: boolean): Promise<void> {
    this.choose(path, { ...this.choice(path), isShown });
    if (!isShown || path === TERRAIN) return;
    const answer = this.answers.get(path) ?? (await this.ask(path));
    if (answer && answer.kind !== "none") this.tell("go", { answer, onlyIfUnseen: true });
  }

  setOpacity(path: string, opacity: number): void {
    this.choose(path, { ...this.choice(path), opacity });
  }

  /** Let the plan show where a background lies. */
  go(path: string): void {
    const answer = this.answers.get(path);
    if (answer) this.tell("go", { answer, onlyIfUnseen: false });
  }

  /** Hand over files that were dropped on the page. */
  hand(files: readonly File[]): void {
    this.handed = files;
    this.tell("handed");
  }

  private count(path: string, more: number): void {
    this.asking.set(path, (this.asking.get(path) ?? 0) + more);
    this.tell("change");
  }

  private choose(path: string, choice: Choice): void {
    this.choices[path] = choice;
    try {
      localStorage.setItem(this.keptAs, JSON.stringify(this.choices));
    } catch {
      // it holds for this page alone
    }
    this.tell("change");
  }

  private tell(name: string, detail: unknown = null): void {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

let open: Backgrounds | null = null;

/** The backgrounds of a job, shared by its plan and its panel. */
export function backgroundsOf(jobId: string): Backgrounds {
  if (open?.jobId !== jobId) open = new Backgrounds(jobId);
  return open;
}

/** All on which the place of a file hangs: the files themselves, the plane, what may choose it, and which is the book. */
function placing({ files, asked }: JobState): string {
  const rows = [asked.line, asked.obstacle].flat() as (Record<string, unknown> | undefined)[];
  const named = rows.map((row) => [row?.file, row?.layer, row?.feature, row?.points !== undefined]);
  const { crs, origin, north, file_unit } = (asked.site ?? {}) as Record<string, unknown>;
  const { book } = (asked.price ?? {}) as Record<string, unknown>;
  return JSON.stringify([files, crs, origin, north, file_unit, named, book]);
}

function kept(name: string): Record<string, Choice> {
  try {
    const read: unknown = JSON.parse(localStorage.getItem(name) ?? "{}");
    return Object.fromEntries(Object.entries(read as object).filter(([, choice]) => isChoice(choice)));
  } catch {
    return {}; // a browser may refuse storage
  }
}

function isChoice(value: unknown): value is Choice {
  const { isShown, opacity } = (value ?? {}) as Partial<Choice>;
  return typeof isShown === "boolean" && typeof opacity === "number" && opacity >= 0 && opacity <= 1;
}
