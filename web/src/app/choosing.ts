/** What is chosen on plan, section and panels, the post under the hand, and the posts chosen together. */

import type { ReactiveControllerHost } from "lit";
import type { FindingRow } from "../api/records.ts";
import { distance, type Point } from "../flat/bearing.ts";
import { type Held, isSame } from "../plan/hands.ts";
import { inPage } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { DrawnJob } from "./drawn_job.ts";
import { heldNow, lineNow } from "./held_followed.ts";

const SAME_STATION_M = 0.02;
const SAME_PLACE_M = 0.02;
/** A post that is laid out nearer than this to where it stood is the same. */
const STILL_M = 0.1;

/** A choice is shared: the section shows its line, plan and section light it, the panels have its numbers. */
export class Choosing {
  held: Held | null = null;
  /** Id of the post under the hand, on plan or section. */
  hovered = "";
  several: ReadonlySet<string> = new Set();
  /** Where the chosen posts stood in the plan that was drawn last. */
  private stood: ReadonlyMap<string, Point> = new Map();
  /** A post that was moved along its line, until the answer shows where it stands. */
  private moved: { line: string; station_m: number } | null = null;
  /** Where all that lay under the press lay then. */
  private lay: readonly (Point | undefined)[] = [];

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly drawn: DrawnJob,
  ) {}

  /** Id of what is chosen; empty where nothing is. */
  get id(): string {
    return this.held?.id ?? "";
  }

  choose(held: Held | null): void {
    this.held = held;
    this.lay = (held?.here ?? []).map((each) => this.pointOf(each));
    const line = held && this.lineOf(held);
    if (line) this.drawn.showLine(line);
    this.notePosts();
    this.host.requestUpdate();
  }

  hover(id: string): void {
    if (id === this.hovered) return;
    this.hovered = id;
    this.host.requestUpdate();
  }

  together(ids: readonly string[]): void {
    this.several = new Set(ids);
    this.notePosts();
    this.host.requestUpdate();
  }

  /** What lay under the press that chose it, beside it. */
  get others(): readonly Held[] {
    return (this.held?.here ?? []).filter((each) => !isSame(each, this.held));
  }

  /** The next of what lay under the press; null where there was nothing else. */
  get next(): Held | null {
    const here = this.held?.here ?? [];
    const place = here.findIndex((each) => isSame(each, this.held));
    const next = here[(place + 1) % Math.max(1, here.length)];
    return here.length > 1 && next ? { ...next, here } : null;
  }

  /** Another state of the job: what is chosen stays so under another name or number, and is let go where it is gone. */
  follow(before: Record<string, unknown>, after: Record<string, unknown>): void {
    const { line } = this.drawn;
    const name = lineNow(line, before, after);
    if (name && name !== line) this.drawn.rename(line, name);
    const { held } = this;
    if (!held) return;
    const now = heldNow(held, before, after);
    const here = held.here?.flatMap((each) => heldNow(each, before, after) ?? []);
    this.held = now && here ? { ...now, here } : now;
    this.host.requestUpdate();
  }

  /** What a finding speaks of, and where it stands on the plan. */
  placeOf({ where }: FindingRow): { held: Held | null; at: Point | undefined } {
    const named = this.drawn.plan.posts.find((post) => post.id === where.id);
    const at = (named ?? this.drawn.nearestPost(where.line, where.station_m))?.at;
    const isPost = where.kind === "post" || /^P\d+$/.test(where.id);
    if (isPost || where.kind === "gate")
      return { held: { kind: isPost ? "post" : "gate", id: where.id }, at };
    return { held: where.line ? { kind: "line", id: where.line } : null, at };
  }

  /** The posts beyond a post that moves are laid out again and numbered anew: the one that moved stays chosen. */
  keepMoved(line: string, station_m: number): void {
    this.moved = { line, station_m };
  }

  /** A design has been drawn: chosen posts are found again, and what was offered beside the chosen thing is looked at. */
  drew(): void {
    this.dropOffer();
    this.findPosts();
    this.findMoved();
  }

  /** Note where the chosen posts stand. */
  private notePosts(): void {
    const ids = new Set(this.several);
    if (this.held?.kind === "post") ids.add(this.held.id);
    const posts = ids.size ? this.drawn.plan.posts.filter((post) => ids.has(post.id)) : [];
    this.stood = new Map(posts.map((post) => [post.id, post.at]));
  }

  /** Posts that were laid out anew have other numbers: one that still stands where a chosen one stood is that one. */
  private findPosts(): void {
    if (this.stood.size === 0) return;
    const { posts } = this.drawn.plan;
    const gone = new Map(this.stood);
    for (const { id, at } of posts) {
      const stood = gone.get(id);
      if (stood && distance(at, stood) < STILL_M) gone.delete(id);
    }
    const now = newNames(gone, posts);
    if (now.size) {
      this.several = new Set([...this.several].map((id) => now.get(id) ?? id));
      const { held } = this;
      const id = held?.kind === "post" ? now.get(held.id) : undefined;
      if (id) this.held = { kind: "post", id };
    }
    this.notePosts();
  }

  /** Once anything of it lies elsewhere, what lay under the press is offered no more: an id may be another post's by now. */
  private dropOffer(): void {
    const { held } = this;
    if (!held?.here || held.here.every((each, place) => this.isWhereItLay(each, this.lay[place]))) return;
    const { here: _, ...alone } = held;
    this.held = alone;
  }

  private isWhereItLay(thing: Held, lay: Point | undefined): boolean {
    const now = this.pointOf(thing);
    return lay && now ? distance(lay, now) < SAME_PLACE_M : lay === now;
  }

  /** Where a corner, post or gate lies; a line or an obstacle has no one place. */
  private pointOf(thing: Held): Point | undefined {
    const { lines, posts, gates } = this.drawn.plan;
    if (thing.kind === "corner")
      return lines.find((line) => line.name === thing.line)?.points[thing.corner ?? 0];
    if (thing.kind === "post") return posts.find((post) => post.id === thing.id)?.at;
    return thing.kind === "gate" ? gates.find((gate) => gate.name === thing.id)?.hinge : undefined;
  }

  /** Choose the moved post again, once an answer shows it at its new place. */
  private findMoved(): void {
    const { moved } = this;
    const post = moved && this.drawn.nearestPost(moved.line, moved.station_m);
    if (!post || Math.abs(post.station_m - moved.station_m) > SAME_STATION_M) return;
    this.moved = null;
    this.held = { kind: "post", id: post.id };
  }

  /** What is chosen, in the person's words; empty where nothing is. */
  get words(): string {
    if (this.several.size) return say("several_chosen", { count: this.several.size });
    return this.held ? this.wordsOf(this.held) : "";
  }

  /** What a thing is called. */
  wordsOf(held: Held): string {
    if (held.kind === "corner")
      return say("corner_of", { number: (held.corner ?? 0) + 1, line: held.line ?? "" });
    const thing = held.kind === "obstacle" ? this.drawn.plan.obstacles[held.row ?? -1] : undefined;
    return thing ? thing.name || inPage(thing.kind) : held.id;
  }

  private lineOf(held: Held): string | undefined {
    if (held.kind === "line") return held.id;
    if (held.line) return held.line;
    const { posts, gates } = this.drawn.plan;
    return held.kind === "post"
      ? posts.find((post) => post.id === held.id)?.line
      : gates.find((gate) => gate.name === held.id)?.line;
  }
}

const cellOf = (x: number, y: number): string => `${Math.floor(x / STILL_M)} ${Math.floor(y / STILL_M)}`;

/** The cells in which whatever still stands at a point may lie. */
const cellsAbout = ([x, y]: Point): string[] =>
  [-STILL_M, 0, STILL_M].flatMap((east) =>
    [-STILL_M, 0, STILL_M].map((north) => cellOf(x + east, y + north)),
  );

/** Ids of the posts that now stand where others stood, by the ids of those; one pass, as all posts may be chosen. */
function newNames(
  stood: ReadonlyMap<string, Point>,
  posts: readonly { id: string; at: Point }[],
): Map<string, string> {
  const now = new Map<string, string>();
  if (stood.size === 0) return now;
  const cells = new Map<string, string[]>();
  for (const [id, at] of stood)
    for (const cell of cellsAbout(at)) cells.set(cell, [...(cells.get(cell) ?? []), id]);
  for (const { id, at } of posts)
    for (const before of cells.get(cellOf(...at)) ?? []) {
      const isIt = distance(at, stood.get(before) ?? at) < STILL_M;
      if (isIt && !now.has(before)) now.set(before, id);
    }
  return now;
}
