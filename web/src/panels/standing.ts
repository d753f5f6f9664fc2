/** What the job says to stand on its lines: gates, crossings, strain posts, pins, built posts, rock met, sizes. */

import type { Point } from "../flat/bearing.ts";
import { pointAtStation } from "../flat/polyline.ts";
import type { Held } from "../plan/hands.ts";
import { flatOf, type PlanModel } from "../plan/model.ts";
import { typedLength } from "../units/typed_length.ts";
import { rowWords } from "./row_words.ts";

export const STANDING_TABLES = ["gate", "crossing", "strain", "pin", "built", "rock", "size"] as const;
export type StandingTable = (typeof STANDING_TABLES)[number];

const SAME_POST_M = 0.3; // two marks nearer than this along a line are on one post, as the edits have it

type Row = Record<string, unknown>;

/** A row of the job file that stands at a station of a line. */
export interface Mark {
  table: StandingTable;
  row: number;
  line: string;
  station_m: number;
  words: string;
  values: Row;
}

/** Every mark of the job, by table and in its order. */
export function marksOf(asked: Row): Mark[] {
  return STANDING_TABLES.flatMap((table) =>
    ((asked[table] ?? []) as Row[]).map((values, row) => ({
      table,
      row,
      line: String(values.line ?? ""),
      station_m: typedLength(String(values.at ?? "")),
      words: rowWords(table, values, row),
      values,
    })),
  );
}

/** Marks on the post at a station of a line. */
export function marksAt(asked: Row, line: string, station_m: number): Mark[] {
  return marksOf(asked).filter(
    (mark) => mark.line === line && Math.abs(mark.station_m - station_m) <= SAME_POST_M,
  );
}

/** A mark as it is held; a gate is held as the plan holds it. */
export function heldMark(mark: Mark): Held {
  if (mark.table === "gate")
    return { kind: "gate", id: String(mark.values.name || `gate ${mark.row + 1}`), line: mark.line };
  return {
    kind: "mark",
    id: mark.words,
    table: mark.table,
    row: mark.row,
    line: mark.line,
    station_m: mark.station_m,
  };
}

/** Whether a mark is the one that is held. */
export function isMarkHeld(mark: Mark, held: Held): boolean {
  if (held.kind === "gate") return mark.table === "gate" && heldMark(mark).id === held.id;
  return mark.table === held.table && mark.row === held.row;
}

/** Where a station of a line lies on the plan; null where that line is not drawn. */
export function placeOf(model: PlanModel | null, line: string, station_m: number): Point | null {
  const drawn = model?.lines.find((each) => each.name === line);
  return drawn && Number.isFinite(station_m) ? pointAtStation(flatOf(drawn), station_m) : null;
}
