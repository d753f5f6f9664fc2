/** The findings while an answer comes: those that only a whole design tells stand from the one before until it is there. */

import type { FindingRow } from "../api/records.ts";

/** Worst first, as a whole design has them. */
const LEVELS: readonly string[] = ["stop", "caution", "note"];

/** Findings of one session. What was told before the design was whole tells, by what is left, which codes come last. */
export class FindingsTold {
  /** What is shown. */
  shown: readonly FindingRow[] = [];
  /** Codes that come with the whole design alone. */
  late: ReadonlySet<string> = new Set();
  private early: { revision: number; codes: ReadonlySet<string> } = { revision: -1, codes: new Set() };

  private last: { revision: number; told: readonly FindingRow[] } = { revision: -1, told: [] };

  /** Hear what a stage tells: it may be the last of its revision. */
  hear(revision: number, told: readonly FindingRow[]): void {
    this.last = { revision, told };
  }

  /** No design of a revision will come: show what was told of it, and nothing of the design before. */
  takeLast(revision: number): void {
    this.shown = this.last.revision === revision ? worstFirst(this.last.told) : [];
  }

  /** Take the findings of the checks, made before the rolls, the order and the whole. */
  takeEarly(revision: number, told: readonly FindingRow[]): void {
    const codes = codesOf(told);
    const kept = this.shown.filter(({ code }) => this.late.has(code) && !codes.has(code));
    this.early = { revision, codes };
    this.shown = worstFirst([...told, ...kept]);
  }

  /** Take the findings of a whole design. */
  takeAll(revision: number, told: readonly FindingRow[]): void {
    if (this.early.revision === revision)
      this.late = new Set([...codesOf(told)].filter((code) => !this.early.codes.has(code)));
    this.shown = told;
  }

  /** The whole design of a revision will not come: what only it would have told goes. */
  endEarly(revision: number): void {
    if (this.early.revision === revision)
      this.shown = this.shown.filter(({ code }) => this.early.codes.has(code));
  }
}

function codesOf(findings: readonly FindingRow[]): ReadonlySet<string> {
  return new Set(findings.map(({ code }) => code));
}

function worstFirst(findings: readonly FindingRow[]): readonly FindingRow[] {
  return LEVELS.flatMap((level) => findings.filter((finding) => finding.level === level));
}
