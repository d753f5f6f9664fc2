/** What a press or a drag asks for, as edits of the job file: pure, so that it can be tested without a page. */

import type { Edit } from "../api/client.ts";
import type { Point } from "../flat/bearing.ts";
import type { Moved, Tool } from "../plan/hands.ts";
import { FOOT_M, type System } from "../units/show.ts";

/** The part of a post's row that says where it stands. */
export interface Standing {
  id: string;
  line: string;
  role: string;
  station_m: number | null;
}

/** What a hand drew on the plan, and with which tool. */
export interface DrawnByHand {
  tool: Tool;
  points: readonly Point[];
  closed: boolean;
}

type Row = Record<string, unknown>;
type Path = (string | number)[];

/** A change to the job as a finding's remedy holds it: a key set, or a row added to a table. */
interface RemedyChange {
  path?: Path;
  value?: unknown;
  append?: Row;
}

/** What a finding's remedy does, as one edit; null where it holds nothing that can be done. */
export function remedyEdit({ edits, remedy }: { edits: readonly object[]; remedy: string }): Edit | null {
  const made = (edits as readonly RemedyChange[]).flatMap((change): Edit[] => {
    const { path } = change;
    if (!path?.length) return [];
    if (change.append) return [{ kind: "add", table: String(path[0]), values: change.append }];
    return [{ kind: "set", path, value: change.value ?? null }];
  });
  return many(made, remedy);
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
  return found ? Number(found[1]) * (found[2] === "ft" ? FOOT_M : 1) : Number.NaN;
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

/** A coordinate as the job file has it, in the job's long unit. */
export function typedLong(value_m: number, system: System): string {
  return system === "us" ? `${Number((value_m / FOOT_M).toFixed(4))} ft` : `${Number(value_m.toFixed(4))} m`;
}

/** A station, or where a corner is typed to stand, as the job file has it: no finer than it can be set out. */
export function typedStation(value_m: number, system: System): string {
  return system === "us" ? `${Number((value_m / FOOT_M).toFixed(3))} ft` : `${Number(value_m.toFixed(3))} m`;
}

/** A corner, a gate or a point of an obstacle that a hand moved; null where the job has no such gate. */
export function movedEdit(asked: Row, moved: Moved): Edit | null {
  const { held, to, station_m, isAlone } = moved;
  if (held.kind === "corner") {
    const shared = isAlone ? { shared: false } : {};
    return { kind: "move_corner", line: held.line, corner: held.corner, to: [...to], ...shared };
  }
  if (held.kind === "obstacle")
    return { kind: "move_obstacle", item: held.row, point: held.point ?? 0, to: [...to] };
  if (held.kind !== "gate" || station_m === undefined) return null;
  const rows = (asked.gate ?? []) as Row[];
  const item = rows.findIndex((row, place) => (row.name ?? `gate ${place + 1}`) === held.id);
  return item >= 0 ? { kind: "slide", table: "gate", item, at: station_m } : null;
}

/** A top that a hand let go: pinned at its height above ground. */
export function topEdit(post: Standing, height_m: number): Edit {
  return { kind: "pin_top", line: post.line, at: post.station_m ?? 0, height: height_m };
}

/** What was drawn on the plan, as an edit: a line of fence, or a thing in the way of some kind. */
export function drawnEdit({ tool, points, closed }: DrawnByHand, kind: string, system: System): Edit {
  if (tool !== "obstacle") return { kind: "add_line", points: points.map((point) => [...point]), closed };
  const typed = points.map((point) => point.map((value_m) => typedLong(value_m, system)));
  return { kind: "add", table: "obstacle", values: { kind, points: typed, closed } };
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
