/** What an edit changed in the whole design: sums, the order, and which posts, tops, cuts and holes. */

import type { OrderRow, PostRow, RollRow, Summary } from "../api/records.ts";
import type { Point } from "../flat/bearing.ts";
import { rowsOf, type Tables } from "./tables.ts";

/** Columns of the posts that are compared. */
const COMPARED = [
  "id",
  "line",
  "station_m",
  "x_m",
  "y_m",
  "above_ground_m",
  "cut_m",
  "stock_length_m",
  "hole_depth_m",
  "set",
];
const SAME_M = 0.0015; // about a sixteenth of an inch: less is no change to a person with a tape

export interface Whole {
  tables: Tables;
  summary: Summary;
}

export interface SumChange {
  key: "fence_length" | "rail_length" | "posts" | "panel_rolls" | "pulls" | "bags";
  before: number;
  after: number;
}

export interface OrderChange {
  item: string;
  unit: string;
  before: number;
  after: number;
}

/** A number of a post, or of a bay between two, as it was and is. */
export interface PostChange {
  id: string;
  before_m: number | null;
  after_m: number | null;
}

export interface Changes {
  sums: SumChange[];
  order: OrderChange[];
  /** Posts, by their present names, that stand elsewhere or are new; those that are gone are counted. */
  moved: string[];
  added: string[];
  gone: number;
  /** Distances from post to post. */
  spacing: PostChange[];
  /** Tops above ground. */
  tops: PostChange[];
  /** What is cut off, and stock lengths. */
  cuts: PostChange[];
  stock: PostChange[];
  /** Depths of holes; `set` are posts held in another way than before. */
  holes: PostChange[];
  set: string[];
  /** Rolls that are cut otherwise. */
  rolls: number;
  /** Where moved and gone posts stood. */
  were: Point[];
}

/** Compare two whole designs of one job. */
export function changesOf(before: Whole, after: Whole): Changes {
  const [had, is] = [before, after].map((each) => rowsOf<PostRow>(each.tables, "posts", COMPARED));
  const posts = comparePosts(withNamesOf(had ?? [], is ?? []), is ?? []);
  return {
    ...posts,
    sums: compareSums(before.summary, after.summary),
    order: compareOrders(rowsOf<OrderRow>(before.tables, "order"), rowsOf<OrderRow>(after.tables, "order")),
    rolls: compareRolls(rowsOf<RollRow>(before.tables, "rolls"), rowsOf<RollRow>(after.tables, "rolls")),
  };
}

/** Whether nothing at all changed. */
export function isNothing(changes: Changes): boolean {
  const lists = [
    changes.sums,
    changes.order,
    changes.moved,
    changes.added,
    changes.spacing,
    changes.tops,
    changes.cuts,
    changes.stock,
    changes.holes,
    changes.set,
  ];
  return changes.gone === 0 && changes.rolls === 0 && lists.every((list) => list.length === 0);
}

function compareSums(before: Summary, after: Summary): SumChange[] {
  const total = (summary: Summary) => Object.values(summary.posts).reduce((sum, count) => sum + count, 0);
  const rows: SumChange[] = [
    { key: "fence_length", before: before.fence_length_m ?? 0, after: after.fence_length_m ?? 0 },
    { key: "posts", before: total(before), after: total(after) },
    { key: "rail_length", before: before.rail_length_m ?? 0, after: after.rail_length_m ?? 0 },
    { key: "panel_rolls", before: before.rolls ?? 0, after: after.rolls ?? 0 },
    { key: "pulls", before: before.pulls, after: after.pulls },
    { key: "bags", before: Math.ceil(before.bags ?? 0), after: Math.ceil(after.bags ?? 0) },
  ];
  return rows.filter((row) => Math.abs(row.after - row.before) > SAME_M);
}

function compareOrders(before: readonly OrderRow[], after: readonly OrderRow[]): OrderChange[] {
  const rows = new Map<string, OrderChange>();
  for (const row of before)
    rows.set(row.id, { item: named(row), unit: row.unit, before: row.order ?? 0, after: 0 });
  for (const row of after) {
    const had = rows.get(row.id);
    rows.set(row.id, { item: named(row), unit: row.unit, before: had?.before ?? 0, after: row.order ?? 0 });
  }
  return [...rows.values()].filter((row) => Math.abs(row.after - row.before) > 1e-6);
}

function named(row: OrderRow): string {
  return row.size ? `${row.item}, ${row.size}` : row.item;
}

/** How many rolls of the new list are cut as none of the old one is. */
function compareRolls(before: readonly RollRow[], after: readonly RollRow[]): number {
  const as = (roll: RollRow) => JSON.stringify([roll.product, roll.from_yard, roll.length_m, roll.pieces]);
  const had = new Map<string, number>();
  for (const roll of before) had.set(as(roll), (had.get(as(roll)) ?? 0) + 1);
  return after.filter((roll) => {
    const left = had.get(as(roll)) ?? 0;
    had.set(as(roll), left - 1);
    return left <= 0;
  }).length;
}

/** The posts before with the new names of lines that were renamed: a line of a new name that begins where one of an old name did. */
function withNamesOf(before: readonly PostRow[], after: readonly PostRow[]): readonly PostRow[] {
  const firsts = (posts: readonly PostRow[]) => {
    const found = new Map<string, PostRow>();
    for (const post of posts) if (!found.has(post.line)) found.set(post.line, post);
    return found;
  };
  const [had, has] = [firsts(before), firsts(after)];
  const named = new Map<string, string>();
  for (const [name, post] of has) {
    if (had.has(name)) continue;
    const old = [...had].find(
      ([other, first]) => !has.has(other) && !named.has(other) && away(first, post) <= SAME_M,
    );
    if (old) named.set(old[0], name);
  }
  return named.size ? before.map((post) => ({ ...post, line: named.get(post.line) ?? post.line })) : before;
}

function away(one: PostRow, other: PostRow): number {
  return Math.hypot((one.x_m ?? 0) - (other.x_m ?? 0), (one.y_m ?? 0) - (other.y_m ?? 0));
}

type PostChanges = Omit<Changes, "sums" | "order" | "rolls">;

/** Posts are matched by their place: first those that stand where they stood, then the nearest of what is left. */
function comparePosts(before: readonly PostRow[], after: readonly PostRow[]): PostChanges {
  const found: PostChanges = {
    moved: [],
    added: [],
    gone: 0,
    spacing: [],
    tops: [],
    cuts: [],
    stock: [],
    holes: [],
    set: [],
    were: [],
  };
  const lines = new Map<string, PostRow[]>();
  for (const post of before) {
    const line = lines.get(post.line);
    if (line) line.push(post);
    else lines.set(post.line, [post]);
  }
  const taken = new Set<string>();
  const pairs = new Map<string, PostRow>();
  const pair = (post: PostRow, was: PostRow | null | undefined) => {
    if (!was || taken.has(was.id)) return;
    taken.add(was.id);
    pairs.set(post.id, was);
  };
  // Those that stand where they stood come first, whatever their stations are now: a corner that moves shifts them all.
  const standing = new Map<string, PostRow>();
  for (const post of before) standing.set(`${post.line} ${cellOf(post.x_m)} ${cellOf(post.y_m)}`, post);
  for (const post of after) {
    for (const x of cellsOf(post.x_m))
      for (const y of cellsOf(post.y_m)) {
        const was = standing.get(`${post.line} ${x} ${y}`);
        if (was && !pairs.has(post.id) && away(was, post) <= SAME_M) pair(post, was);
      }
  }
  for (const post of after)
    if (!pairs.has(post.id)) pair(post, nearest(lines.get(post.line) ?? [], post, taken));
  found.spacing = spacing(before, after, pairs);
  for (const post of after) {
    const was = pairs.get(post.id);
    if (!was) {
      found.added.push(post.id);
      continue;
    }
    if (away(post, was) > SAME_M) {
      found.moved.push(post.id);
      found.were.push([was.x_m ?? 0, was.y_m ?? 0]);
    }
    note(found.tops, post.id, was.above_ground_m, post.above_ground_m);
    note(found.cuts, post.id, was.cut_m, post.cut_m);
    note(found.stock, post.id, was.stock_length_m, post.stock_length_m);
    note(found.holes, post.id, was.hole_depth_m, post.hole_depth_m);
    if (post.set !== was.set) found.set.push(post.id);
  }
  for (const post of before) {
    if (taken.has(post.id)) continue;
    found.gone += 1;
    found.were.push([post.x_m ?? 0, post.y_m ?? 0]);
  }
  return found;
}

type Length = number | null | undefined;

function note(list: PostChange[], id: string, before_m: Length, after_m: Length): void {
  if (differ(before_m, after_m)) list.push({ id, before_m: before_m ?? null, after_m: after_m ?? null });
}

/** Bays of the new fence that are not as long as the one that began at the same post before. */
function spacing(
  before: readonly PostRow[],
  after: readonly PostRow[],
  pairs: ReadonlyMap<string, PostRow>,
): PostChange[] {
  const had = new Map<string, Bay>();
  for (const bays of baysOf(before).values()) for (const bay of bays) had.set(bay.from, bay);
  const found: PostChange[] = [];
  for (const bays of baysOf(after).values())
    for (const bay of bays) {
      const old = had.get(pairs.get(bay.from)?.id ?? "");
      note(found, bay.id, old ? old.length_m : null, bay.length_m);
    }
  return found;
}

interface Bay {
  id: string;
  from: string;
  length_m: number;
}

/** From post to post of each line, in the order of their stations. */
function baysOf(posts: readonly PostRow[]): Map<string, Bay[]> {
  const lines = new Map<string, Bay[]>();
  let last: PostRow | null = null;
  for (const post of posts) {
    if (last && last.line === post.line && last.station_m !== null && post.station_m !== null) {
      const length_m = (post.station_m ?? 0) - (last.station_m ?? 0);
      const bay = { id: `${last.id}–${post.id}`, from: last.id, length_m };
      const own = lines.get(post.line);
      if (own) own.push(bay);
      else lines.set(post.line, [bay]);
    }
    last = post;
  }
  return lines;
}

/** Centimetres of a coordinate; and the one or two that a place a hair away may fall into. */
function cellOf(value_m: Length): number {
  return Math.round((value_m ?? 0) * 100);
}

function cellsOf(value_m: Length): number[] {
  const [low, high] = [cellOf((value_m ?? 0) - SAME_M), cellOf((value_m ?? 0) + SAME_M)];
  return low === high ? [low] : [low, high];
}

function nearest(posts: readonly PostRow[], to: PostRow, taken: ReadonlySet<string>): PostRow | null {
  const station = to.station_m ?? 0;
  let low = 0;
  let high = posts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((posts[middle]?.station_m ?? 0) < station) low = middle + 1;
    else high = middle;
  }
  const near = [posts[low - 1], posts[low], posts[low + 1]].filter(
    (post): post is PostRow => post !== undefined && !taken.has(post.id),
  );
  near.sort((a, b) => Math.abs((a.station_m ?? 0) - station) - Math.abs((b.station_m ?? 0) - station));
  return near[0] ?? null;
}

function differ(a: number | null | undefined, b: number | null | undefined): boolean {
  if (typeof a !== "number" || typeof b !== "number") return (a ?? null) !== (b ?? null);
  return Math.abs(a - b) > SAME_M;
}
