/** What differs between two revisions of a job, in words: which table and row, which key, before and after. */

import type { ChangeInfo } from "../api/client.ts";
import { fieldWords, inPage } from "../texts/program.ts";
import { say, wordOr } from "../texts/say.ts";
import { tableWord } from "./row_words.ts";

const LONGEST = 80;
const NOTHING = "–";

/** `pin 1, height: 54 in → 55 in`; a whole row that came or went: `pin 1: – → line winter, at 54.889 m`. */
export function changeWords(change: ChangeInfo): string {
  const { table, key } = change;
  const place = key ? `${placeOf(change)}, ${keyWord(table, key)}` : placeOf(change);
  const [before, after] = whatDiffers(change.before, change.after);
  return `${place}: ${brief(table, before)} → ${brief(table, after)}`;
}

/** A row by its name or number, a plain table by the title of its form. */
function placeOf({ table, row, new_row, item }: ChangeInfo): string {
  const number = row ?? new_row;
  if (number === null) return wordOr(`table_${table}`, inPage(table.replaceAll("_", " ")));
  const name = /"(.*)"$/s.exec(item)?.[1];
  return name === undefined
    ? say("row_numbered", { word: tableWord(table), number: number + 1 })
    : `${tableWord(table)} “${name}”`;
}

function keyWord(table: string, key: string): string {
  return fieldWords(table, key)?.title ?? key.replaceAll("_", " ");
}

/** Of two lists of points only those that came or went: the others would push them out of sight. */
function whatDiffers(before: unknown, after: unknown): [unknown, unknown] {
  if (!isPoints(before) || !isPoints(after)) return [before, after];
  const [had, has] = [before, after].map((points) => new Set(points.map(String)));
  const gone = before.filter((point) => !has?.has(String(point)));
  const come = after.filter((point) => !had?.has(String(point)));
  return gone.length || come.length ? [gone, come] : [before, after];
}

function isPoints(value: unknown): value is unknown[][] {
  return Array.isArray(value) && value.length > 0 && value.every(Array.isArray);
}

function brief(table: string, value: unknown): string {
  const text = valueWords(table, value);
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}

/** A value in words: no quotes, no brackets. */
function valueWords(table: string, value: unknown): string {
  if (value === null || value === undefined || value === "") return NOTHING;
  if (typeof value === "boolean") return say(value ? "yes" : "no");
  if (Array.isArray(value)) {
    const parts = value.map((one) =>
      Array.isArray(one) ? one.map(String).join(" ") : valueWords(table, one),
    );
    return parts.join(isPoints(value) ? "; " : ", ") || NOTHING;
  }
  if (typeof value === "object")
    return Object.entries(value)
      .map(([key, one]) => `${keyWord(table, key)} ${valueWords(table, one)}`)
      .join(", ");
  return String(value);
}
