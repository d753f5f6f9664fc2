/** What is shown of a job's design: the tables as far as they are told, and what goes with them. */

import type { FindingRow, Summary } from "../api/records.ts";
import type { System } from "../units/show.ts";
import type { Bands } from "./drawn.ts";
import type { FindingsTold } from "./findings_told.ts";
import type { StageSaid } from "./live_line.ts";
import type { Tables } from "./tables.ts";

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

export const NO_ANSWER: Answer = {
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

/** The answer once a stage is told, whose tables and findings have been taken. */
export function answerAfter(
  before: Answer,
  { revision, values, pending, elapsed_ms }: StageSaid,
  { shown, late }: FindingsTold,
): Answer {
  return {
    ...before,
    revision,
    findings: shown,
    late,
    summary: (values.summary as Summary | undefined) ?? before.summary,
    digest: (values.digest as string | undefined) ?? before.digest,
    sheets: (values.sheets as System | undefined) ?? before.sheets,
    unit_m: (values.plane as { unit_m: number } | undefined)?.unit_m ?? before.unit_m,
    bands: (values.bands as Bands | undefined) ?? before.bands,
    mayBeBuilt: (values.may_be_built as boolean | undefined) ?? before.mayBeBuilt,
    pending,
    elapsed_ms,
  };
}
