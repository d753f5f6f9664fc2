/** A typed length in metres, read as the program reads it. */

import { FOOT_M, INCH_M } from "./show.ts";

const UNITS_M: Record<string, number> = {
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  mm: 0.001,
  cm: 0.01,
  km: 1000,
  ft: FOOT_M,
  foot: FOOT_M,
  feet: FOOT_M,
  "'": FOOT_M,
  "′": FOOT_M,
  in: INCH_M,
  inch: INCH_M,
  inches: INCH_M,
  '"': INCH_M,
  "″": INCH_M,
  yd: 3 * FOOT_M,
  mi: 5280 * FOOT_M,
  mile: 5280 * FOOT_M,
  miles: 5280 * FOOT_M,
  rod: 16.5 * FOOT_M,
  rods: 16.5 * FOOT_M,
};
const NAMES = Object.keys(UNITS_M)
  .sort((a, b) => b.length - a.length)
  .join("|");
const NUMBER = String.raw`[+-]?(?:\d+\s+\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(?:[ -]\d+/\d+)?)`;
const TERM = new RegExp(String.raw`\s*(${NUMBER})\s*(${NAMES})(?![A-Za-z])`, "g");

/**
 * A typed length in metres: `5' 6 1/2"`, `-0.3 m`. NaN where it is none: a bare number too, as everywhere else.
 * It serves the page's own drawing: what a job keeps is parsed by the program.
 */
export function typedLength(text: string): number {
  const clean = text.trim().replace(/^−/, "-");
  if (clean === "") return Number.NaN;
  const terms = [...clean.matchAll(TERM)];
  if (terms.length === 0 || clean.replace(TERM, "").trim() !== "") return Number.NaN;
  const sizes = terms.map((term) => UNITS_M[term[2] ?? ""] ?? Number.NaN);
  const counts = terms.map((term) => numberOf(term[1] ?? ""));
  // feet then inches, never inches then feet; a sign is that of the whole
  const isOrdered = sizes.every((size, i) => i === 0 || size < (sizes[i - 1] ?? 0));
  if (!isOrdered || counts.slice(1).some((count) => count < 0)) return Number.NaN;
  const sign = clean.startsWith("-") ? -1 : 1;
  return counts.reduce((sum, count, i) => sum + (i ? sign : 1) * count * (sizes[i] ?? 0), 0);
}

const EXAMPLES = `"12 ft", "5' 6 1/2\\"", "3.6 m" or "47 in"`;

/** Why what was typed is no length, in the program's own words. */
export function lengthRefused(text: string): string {
  const quoted = text.includes("'") && !text.includes('"') ? `"${text}"` : `'${text.replaceAll("'", "\\'")}'`;
  return /\d,\d/.test(text)
    ? `${quoted} has a comma, where a decimal point is used: write it like ${EXAMPLES}`
    : `${quoted} is no length with a unit: write it like ${EXAMPLES}`;
}

/** `6`, `6.5`, `1/2`, `6 1/2` or `6-1/2`. */
function numberOf(text: string): number {
  const parts = text
    .trim()
    .replace(/^[+-]+/, "")
    .split(/\s+|(?<=\d)-(?=\d)/);
  const size = parts.reduce((sum, part) => {
    const [top, bottom] = part.split("/").map(Number);
    return sum + (top ?? Number.NaN) / (bottom ?? 1);
  }, 0);
  return text.trim().startsWith("-") ? -size : size;
}
