/** What the program calls by the job file's own marks, `[site] frost_depth`, in the words of the forms. */

import { fieldWords } from "../texts/program.ts";
import { say, wordOr } from "../texts/say.ts";
import { fieldsOf, type SchemaNode } from "./fields.ts";
import { TABLES } from "./tables.ts";

/** A field of the job's forms, of one row where its table has many; without a key, the row or the table itself. */
export interface FormPlace {
  table: string;
  key: string;
  row?: number;
}

/** Where a path of the job file stands on the forms; null where nothing of them holds it. */
export function placeOfPath([table, ...path]: readonly (string | number)[]): FormPlace | null {
  if (typeof table !== "string" || !TABLES.includes(table)) return null;
  const [first, second] = path;
  if (typeof first !== "number") return { table, key: first ?? "" };
  return { table, row: first, key: typeof second === "string" ? second : "" };
}

/** What the way to a place is called. */
export function openWords({ key, row }: FormPlace): string {
  return say(key || row !== undefined ? "open_field" : "open_table");
}

const MARK = /\[(\[?)([a-z_]+)\]\]?(?: ([a-z_]+)\b)?(?:( = )"([^"]*)"| = \.\.\. ?)?/g;

/** Keys of one table: `[site] coldest and hottest`, `[fence] rails, top_height and bottom_gap`. */
const KEYS = /\[([a-z_]+)\] ([a-z_]+(?:, [a-z_]+)*) (and|or|y|o) ([a-z_]+)\b/g;

/** Name of a field on the forms, or of a table: `Site: frost depth`. */
export function placeWords({ table, key }: FormPlace, schema: SchemaNode | null): string {
  const title = wordOr(`table_${table}`, table);
  if (!key) return title;
  const field = schema && fieldsOf(schema, table).find((each) => each.key === key);
  return `${title}: ${fieldWords(table, key)?.title ?? field?.title ?? key}`;
}

/** Fields and tables that texts of the program name, each once. */
export function placesIn(texts: readonly string[], schema: SchemaNode | null): FormPlace[] {
  const marks = texts.flatMap((text) => [...apart(text, schema).matchAll(MARK)]);
  const found = marks.map((match) => placeOf(match, schema));
  const known = found.filter((each) => each !== null);
  return known.filter(
    (each, i) => known.findIndex((other) => other.table === each.table && other.key === each.key) === i,
  );
}

/** A text of the program with the names of the forms in it. */
export function inFormWords(text: string, schema: SchemaNode | null): string {
  return apart(text, schema).replace(MARK, (...parts) => {
    const [whole, brackets, table, word, equals, value] = parts as (string | undefined)[];
    const match = [whole, brackets, table, word] as unknown as RegExpMatchArray;
    const place = placeOf(match, schema);
    if (!place) return whole ?? "";
    const rest = word && !place.key ? ` ${word}` : "";
    return `${say("quoted", { words: placeWords(place, schema) })}${rest}${equals ? `${equals}${value}` : ""}`;
  });
}

/** A text in which each key stands behind its own table. */
function apart(text: string, schema: SchemaNode | null): string {
  return text.replace(KEYS, (whole: string, table: string, first: string, joint: string, last: string) => {
    const keys = [...first.split(", "), last];
    if (!keys.every((key) => isKey(schema, table, key))) return whole;
    const marks = keys.map((key) => `[${table}] ${key}`);
    return `${marks.slice(0, -1).join(", ")} ${joint} ${marks.at(-1)}`;
  });
}

function placeOf(match: RegExpMatchArray, schema: SchemaNode | null): FormPlace | null {
  const [, brackets, table = "", word = ""] = match;
  if (!TABLES.includes(table)) return null;
  return { table, key: !brackets && isKey(schema, table, word) ? word : "" };
}

function isKey(schema: SchemaNode | null, table: string, word: string): boolean {
  return (
    schema !== null && TABLES.includes(table) && fieldsOf(schema, table).some((field) => field.key === word)
  );
}
