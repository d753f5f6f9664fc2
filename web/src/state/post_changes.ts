/** Which posts an edit moved, added and took away, and which of their numbers changed: column by column, for long fences. */

import type { Point } from "../flat/bearing.ts";
import { column, type Tables } from "./tables.ts";

export const SAME_M = 0.0015; // about a sixteenth of an inch: less is no change to a person with a tape

/** A number of a post, or of a bay between two, as it was and is. */
export interface PostChange {
  id: string;
  before_m: number | null;
  after_m: number | null;
}

export interface PostChanges {
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
  /** Where moved and gone posts stood. */
  were: Point[];
}

type Length = number | null | undefined;
type Lengths = readonly Length[];

/** The posts of a design by columns; one that has not come is empty. */
interface Posts {
  rows: number;
  id: readonly string[];
  line: readonly string[];
  x_m: Lengths;
  y_m: Lengths;
  station_m: Lengths;
  above_ground_m: Lengths;
  cut_m: Lengths;
  stock_length_m: Lengths;
  hole_depth_m: Lengths;
  set: readonly unknown[];
}

/** Row of the post before that each post is, by its row; -1 where it is new. */
type Pairs = Int32Array;

/** Compare the posts of two whole designs of one job. */
export function postChangesOf(before: Tables, after: Tables): PostChanges {
  const is = postsOf(after);
  const had = withNamesOf(postsOf(before), is);
  const pairs = paired(had, is);
  const taken = new Uint8Array(had.rows);
  for (const row of pairs) if (row >= 0) taken[row] = 1;
  const found: PostChanges = {
    moved: [],
    added: [],
    gone: 0,
    spacing: spacing(had, is, pairs),
    tops: noted(had.above_ground_m, is.above_ground_m, pairs, is.id),
    cuts: noted(had.cut_m, is.cut_m, pairs, is.id),
    stock: noted(had.stock_length_m, is.stock_length_m, pairs, is.id),
    holes: noted(had.hole_depth_m, is.hole_depth_m, pairs, is.id),
    set: [],
    were: [],
  };
  for (let row = 0; row < is.rows; row++) {
    const was = pairs[row] as number;
    const id = is.id[row] as string;
    if (was < 0) {
      found.added.push(id);
      continue;
    }
    if (away(had, was, is, row) > SAME_M) {
      found.moved.push(id);
      found.were.push([had.x_m[was] ?? 0, had.y_m[was] ?? 0]);
    }
    if (is.set[row] !== had.set[was]) found.set.push(id);
  }
  for (let row = 0; row < had.rows; row++) {
    if (taken[row]) continue;
    found.gone += 1;
    found.were.push([had.x_m[row] ?? 0, had.y_m[row] ?? 0]);
  }
  return found;
}

function postsOf(tables: Tables): Posts {
  const of = <Value>(key: string): readonly Value[] => column<Value>(tables, "posts", key) ?? [];
  return {
    rows: tables.posts?.rows ?? 0,
    id: of("id"),
    line: of("line"),
    x_m: of("x_m"),
    y_m: of("y_m"),
    station_m: of("station_m"),
    above_ground_m: of("above_ground_m"),
    cut_m: of("cut_m"),
    stock_length_m: of("stock_length_m"),
    hole_depth_m: of("hole_depth_m"),
    set: of("set"),
  };
}

/** The posts before with the new names of lines that were renamed: a line of a new name that begins where one of an old name did. */
function withNamesOf(before: Posts, after: Posts): Posts {
  const firsts = (posts: Posts) => {
    const found = new Map<string, number>();
    posts.line.forEach((line, row) => {
      if (!found.has(line)) found.set(line, row);
    });
    return found;
  };
  const [had, has] = [firsts(before), firsts(after)];
  const named = new Map<string, string>();
  for (const [name, row] of has) {
    if (had.has(name)) continue;
    const old = [...had].find(
      ([other, first]) => !has.has(other) && !named.has(other) && away(before, first, after, row) <= SAME_M,
    );
    if (old) named.set(old[0], name);
  }
  return named.size ? { ...before, line: before.line.map((line) => named.get(line) ?? line) } : before;
}

function away(one: Posts, row: number, other: Posts, otherRow: number): number {
  const east_m = (one.x_m[row] ?? 0) - (other.x_m[otherRow] ?? 0);
  const north_m = (one.y_m[row] ?? 0) - (other.y_m[otherRow] ?? 0);
  return Math.sqrt(east_m * east_m + north_m * north_m);
}

/**
 * Posts are matched by their place: first those that stand where they stood, whatever their stations are now (a corner
 * that moves shifts them all), then the nearest of what is left. As a rule they are the first and the last of the list.
 */
function paired(before: Posts, after: Posts): Pairs {
  const pairs = new Int32Array(after.rows).fill(-1);
  const taken = new Uint8Array(before.rows);
  const stands = (row: number, was: number) =>
    before.line[was] === after.line[row] && away(before, was, after, row) <= SAME_M;
  const pair = (row: number, was: number) => {
    pairs[row] = was;
    taken[was] = 1;
  };
  const most = Math.min(before.rows, after.rows);
  let first = 0;
  for (; first < most && stands(first, first); first++) pair(first, first);
  let last = 0;
  for (; last < most - first; last++) {
    const [row, was] = [after.rows - 1 - last, before.rows - 1 - last];
    if (!stands(row, was)) break;
    pair(row, was);
  }
  const standing = new Map<string, number>();
  for (let was = first; was < before.rows - last; was++)
    standing.set(`${before.line[was]} ${cellOf(before.x_m[was])} ${cellOf(before.y_m[was])}`, was);
  for (let row = first; row < after.rows - last; row++)
    for (const x of cellsOf(after.x_m[row]))
      for (const y of cellsOf(after.y_m[row])) {
        const was = standing.get(`${after.line[row]} ${x} ${y}`);
        if (was !== undefined && (pairs[row] as number) < 0 && !taken[was] && stands(row, was))
          pair(row, was);
      }
  const lines = new Map<string, number[]>();
  before.line.forEach((line, was) => {
    const own = lines.get(line);
    if (own) own.push(was);
    else lines.set(line, [was]);
  });
  for (let row = first; row < after.rows - last; row++) {
    if ((pairs[row] as number) >= 0) continue;
    const own = lines.get(after.line[row] as string) ?? [];
    const was = nearest(own, before.station_m, after.station_m[row] ?? 0, taken);
    if (was >= 0) pair(row, was);
  }
  return pairs;
}

/** Centimetres of a coordinate; and the one or two that a place a hair away may fall into. */
function cellOf(value_m: Length): number {
  return Math.round((value_m ?? 0) * 100);
}

function cellsOf(value_m: Length): number[] {
  const [low, high] = [cellOf((value_m ?? 0) - SAME_M), cellOf((value_m ?? 0) + SAME_M)];
  return low === high ? [low] : [low, high];
}

/** Of the rows of a line, in the order of their stations, the one nearest to a station that is not taken; -1 where there is none. */
function nearest(rows: readonly number[], stations_m: Lengths, station_m: number, taken: Uint8Array): number {
  const stationOf = (place: number) => stations_m[rows[place] as number] ?? 0;
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (stationOf(middle) < station_m) low = middle + 1;
    else high = middle;
  }
  let best = -1;
  for (const place of [low - 1, low, low + 1]) {
    const row = rows[place];
    if (row === undefined || taken[row]) continue;
    const isNearer =
      best < 0 || distance(stationOf(place), station_m) < distance(stations_m[best], station_m);
    if (isNearer) best = row;
  }
  return best;
}

function distance(one_m: Length, other_m: number): number {
  return Math.abs((one_m ?? 0) - other_m);
}

/** Numbers of posts that are others than they were. */
function noted(before: Lengths, after: Lengths, pairs: Pairs, ids: readonly string[]): PostChange[] {
  const found: PostChange[] = [];
  pairs.forEach((was, row) => {
    if (was >= 0) note(found, () => ids[row] as string, before[was], after[row]);
  });
  return found;
}

function note(list: PostChange[], id: () => string, before_m: Length, after_m: Length): void {
  if (differ(before_m, after_m))
    list.push({ id: id(), before_m: before_m ?? null, after_m: after_m ?? null });
}

function differ(a: Length, b: Length): boolean {
  if (typeof a !== "number" || typeof b !== "number") return (a ?? null) !== (b ?? null);
  return Math.abs(a - b) > SAME_M;
}

/** Bays of the new fence that are not as long as the one that began at the same post before. */
function spacing(before: Posts, after: Posts, pairs: Pairs): PostChange[] {
  const found: PostChange[] = [];
  for (let row = 0; row + 1 < after.rows; row++) {
    const length_m = bayFrom(after, row);
    if (length_m === null) continue;
    const was = pairs[row] as number;
    const id = () => `${after.id[row]}–${after.id[row + 1]}`;
    note(found, id, was < 0 ? null : bayFrom(before, was), length_m);
  }
  return found;
}

/** From a post to the next of its line; null where there is none, or where one of them has no station. */
function bayFrom(posts: Posts, row: number): number | null {
  const [from_m, to_m] = [posts.station_m[row], posts.station_m[row + 1]];
  if (posts.line[row] !== posts.line[row + 1] || typeof from_m !== "number" || typeof to_m !== "number")
    return null;
  return to_m - from_m;
}
