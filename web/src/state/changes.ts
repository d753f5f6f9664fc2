/** What an edit changed in the whole design: sums, the order, and which posts, tops, cuts and holes. */

import type { OrderRow, PostRow, Summary } from "../api/records.ts";
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

export interface Changes {
  sums: SumChange[];
  order: OrderChange[];
  /** Posts, by their present names, that stand elsewhere or are new; those that are gone are counted. */
  moved: string[];
  added: string[];
  gone: number;
  tops: string[];
  cuts: string[];
  holes: string[];
  /** Where moved and gone posts stood. */
  were: Point[];
}

/** Compare two whole designs of one job. */
export function changesOf(before: Whole, after: Whole): Changes {
  const [was, is] = [before, after].map((each) => rowsOf<PostRow>(each.tables, "posts", COMPARED));
  const posts = comparePosts(was ?? [], is ?? []);
  return {
    ...posts,
    sums: compareSums(before.summary, after.summary),
    order: compareOrders(rowsOf<OrderRow>(before.tables, "order"), rowsOf<OrderRow>(after.tables, "order")),
  };
}

/** Whether nothing at all changed. */
export function isNothing(changes: Changes): boolean {
  const lists = [
    changes.sums,
    changes.order,
    changes.moved,
    changes.added,
    changes.tops,
    changes.cuts,
    changes.holes,
  ];
  return changes.gone === 0 && lists.every((list) => list.length === 0);
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

/** Posts are matched by their place: first those that stand where they stood, then the nearest of what is left. */
function comparePosts(
  before: readonly PostRow[],
  after: readonly PostRow[],
): Omit<Changes, "sums" | "order"> {
  const found: Omit<Changes, "sums" | "order"> = {
    moved: [],
    added: [],
    gone: 0,
    tops: [],
    cuts: [],
    holes: [],
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
  // Those that stand where they stood come first, so that a new post between them takes none of theirs.
  for (const reach_m of [SAME_M, Number.POSITIVE_INFINITY]) {
    for (const post of after) {
      const was = pairs.has(post.id) ? null : nearest(lines.get(post.line) ?? [], post, taken, reach_m);
      if (!was) continue;
      taken.add(was.id);
      pairs.set(post.id, was);
    }
  }
  for (const post of after) {
    const was = pairs.get(post.id);
    if (!was) {
      found.added.push(post.id);
      continue;
    }
    const step = Math.hypot((post.x_m ?? 0) - (was.x_m ?? 0), (post.y_m ?? 0) - (was.y_m ?? 0));
    if (step > SAME_M) {
      found.moved.push(post.id);
      found.were.push([was.x_m ?? 0, was.y_m ?? 0]);
    }
    if (differ(post.above_ground_m, was.above_ground_m)) found.tops.push(post.id);
    if (differ(post.cut_m, was.cut_m) || post.stock_length_m !== was.stock_length_m) found.cuts.push(post.id);
    if (differ(post.hole_depth_m, was.hole_depth_m) || post.set !== was.set) found.holes.push(post.id);
  }
  for (const post of before) {
    if (taken.has(post.id)) continue;
    found.gone += 1;
    found.were.push([post.x_m ?? 0, post.y_m ?? 0]);
  }
  return found;
}

function nearest(
  posts: readonly PostRow[],
  to: PostRow,
  taken: ReadonlySet<string>,
  reach_m: number,
): PostRow | null {
  const station = to.station_m ?? 0;
  let low = 0;
  let high = posts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((posts[middle]?.station_m ?? 0) < station) low = middle + 1;
    else high = middle;
  }
  const near = [posts[low - 1], posts[low], posts[low + 1]].filter(
    (post): post is PostRow =>
      post !== undefined && !taken.has(post.id) && Math.abs((post.station_m ?? 0) - station) <= reach_m,
  );
  near.sort((a, b) => Math.abs((a.station_m ?? 0) - station) - Math.abs((b.station_m ?? 0) - station));
  return near[0] ?? null;
}

function differ(a: number | null | undefined, b: number | null | undefined): boolean {
  if (typeof a !== "number" || typeof b !== "number") return (a ?? null) !== (b ?? null);
  return Math.abs(a - b) > SAME_M;
}
