/** What is chosen, found again in another state of the job: another window, undo or an edit gives rows other numbers. */

import { heldMark, isMarkHeld, marksOf } from "../panels/standing.ts";
import type { Held } from "../plan/hands.ts";
import { rowKey } from "../state/row_keys.ts";

type Row = Record<string, unknown>;

const rowsOf = (asked: Row, table: string): Row[] => (asked[table] ?? []) as Row[];

/** A line's name in the state after; its own where the job does not name it, null where it is gone. */
export function lineNow(name: string, before: Row, after: Row): string | null {
  const row = rowsOf(before, "line").find((each) => each.name === name);
  if (!row) return name;
  const now = rowsOf(after, "line").find((each) => rowKey(each) === rowKey(row));
  return now ? String(now.name) : null;
}

/** What is held as it stands in the state after; null where that has it no more. A post is found by its place, later. */
export function heldNow(held: Held, before: Row, after: Row): Held | null {
  if (held.kind === "post") return held;
  if (held.kind === "gate" || held.kind === "mark") return markNow(held, before, after);
  if (held.kind === "obstacle") return obstacleNow(held, before, after);
  const named = held.kind === "line" ? held.id : (held.line ?? "");
  const name = lineNow(named, before, after);
  if (name === null) return null;
  if (held.kind === "line") return name === named ? held : { ...held, id: name };
  const corner = cornerNow(held.corner ?? 0, pointsOf(before, named), pointsOf(after, name));
  if (corner === null) return null;
  const isIt = corner === held.corner && name === held.line;
  return isIt ? held : { ...held, id: `${name}/${corner}`, line: name, corner };
}

function markNow(held: Held, before: Row, after: Row): Held | null {
  const mark = marksOf(before).find((each) => isMarkHeld(each, held));
  if (!mark) return held;
  const now = marksOf(after).find(
    (each) => each.table === mark.table && rowKey(each.values) === rowKey(mark.values),
  );
  return now ? { ...held, ...heldMark(now) } : null;
}

function obstacleNow(held: Held, before: Row, after: Row): Held | null {
  const row = rowsOf(before, "obstacle")[held.row ?? -1];
  if (!row) return held;
  const now = rowsOf(after, "obstacle").findIndex((each) => rowKey(each) === rowKey(row));
  if (now < 0) return null;
  return now === held.row ? held : { ...held, row: now };
}

/** Points of a line as the job file has them; none where they stand in a file. */
function pointsOf(asked: Row, name: string): readonly string[] {
  const points = rowsOf(asked, "line").find((each) => each.name === name)?.points;
  return Array.isArray(points) ? points.map((point) => JSON.stringify(point)) : [];
}

/** A corner's number among the points after: it is found by its place, and where as many are left it may have moved. */
function cornerNow(corner: number, before: readonly string[], after: readonly string[]): number | null {
  const point = before[corner];
  if (point === undefined || after[corner] === point) return corner;
  const place = after.indexOf(point);
  if (place >= 0) return place;
  return before.length === after.length ? corner : null;
}
