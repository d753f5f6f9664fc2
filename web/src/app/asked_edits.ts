/** What a press or a drag asks for, as edits of the job file: pure, so that it can be tested without a page. */

import type { Edit } from "../api/client.ts";

/** The part of a post's row that says where it stands. */
export interface Standing {
  id: string;
  line: string;
  role: string;
  station_m: number | null;
}

type Row = Record<string, unknown>;
type Path = (string | number)[];

/** A change to the job as a finding's remedy holds it: a key set, or a row added to a table. */
export interface RemedyChange {
  path?: Path;
  value?: unknown;
  append?: Row;
}

/** A remedy as one edit; null where it holds nothing that can be done. */
export function remedyEdit(changes: readonly RemedyChange[], label: string): Edit | null {
  const edits = changes.flatMap((change): Edit[] => {
    const { path } = change;
    if (!path?.length) return [];
    if (change.append) return [{ kind: "add", table: String(path[0]), values: change.append }];
    return [{ kind: "set", path, value: change.value ?? null }];
  });
  return many(edits, label);
}

/** Several edits as one; a single one as itself; none as null. */
export function many(edits: readonly Edit[], label: string): Edit | null {
  const [only] = edits;
  if (!only) return null;
  return edits.length === 1 ? only : { kind: "many", label: label.slice(0, 200), edits };
}

const SAME_POST_M = 0.05;
const SLIDING = ["pin", "strain", "built", "gate", "crossing"] as const;

/** Metres of a station as the job file has it; NaN where its unit is not known here. */
export function stationOf(text: unknown): number {
  const found = /^\s*(-?\d+(?:\.\d+)?)\s*(ft|m)\s*$/.exec(String(text ?? ""));
  return found ? Number(found[1]) * (found[2] === "ft" ? 0.3048 : 1) : Number.NaN;
}

/**
 * A post moved along its line: the mark that holds it slides, and a line post gets one that holds it there.
 * Null for a post that a corner, an end or a crossing line holds: its place is a point of the line.
 */
export function shiftEdit(
  asked: Row,
  post: Standing,
  by_m: number,
  typed: (metres: number) => string,
): Edit | null {
  const at_m = post.station_m ?? Number.NaN;
  const to_m = Math.max(0, at_m + by_m);
  for (const table of SLIDING) {
    const rows = (asked[table] ?? []) as Row[];
    const item = rows.findIndex(
      (row) => row.line === post.line && Math.abs(stationOf(row.at) - at_m) < SAME_POST_M,
    );
    if (item < 0) continue;
    if (table === "pin" && rows[item]?.post !== true)
      return many(
        [
          { kind: "slide", table, item, at: to_m },
          { kind: "set", path: [table, item, "post"], value: true },
        ],
        `move ${post.id}`,
      );
    return { kind: "slide", table, item, at: to_m };
  }
  if (post.role !== "line") return null;
  return { kind: "add", table: "pin", values: { line: post.line, at: typed(to_m), post: true } };
}

/** Edits for posts chosen together; a mark that is not there is passed over. */
export function severalEdit(
  what: "pin" | "unpin" | "built",
  posts: readonly Standing[],
  asked: Row,
  height: string,
  label: string,
): Edit | null {
  const pins = (asked.pin ?? []) as Row[];
  const isPinned = (post: Standing) =>
    pins.some(
      (row) =>
        row.line === post.line &&
        (row.height !== undefined || row.top !== undefined) &&
        Math.abs(stationOf(row.at) - (post.station_m ?? Number.NaN)) < SAME_POST_M,
    );
  const edits = posts.flatMap((post): Edit[] => {
    const at = { line: post.line, at: post.station_m ?? 0 };
    if (what === "pin") return [{ kind: "pin_top", ...at, height }];
    if (what === "built") return [{ kind: "post_set", ...at }];
    return isPinned(post) ? [{ kind: "unpin", ...at }] : [];
  });
  return many(edits, label);
}
