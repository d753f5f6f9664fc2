/** What a row of the job file is called in a list: its name, or its kind and number, and what tells it from others. */

import { inPage } from "../texts/program.ts";
import { say, wordOr } from "../texts/say.ts";

type Row = Record<string, unknown>;

/** Keys that tell rows of a table apart, in the order in which they are said. */
const TELLING: Readonly<Record<string, readonly string[]>> = {
  soil_zone: ["soil", "line", "from", "to"],
  strand: ["rail", "height"],
  gate: ["line", "at", "opening"],
  crossing: ["line", "at", "width"],
  obstacle: ["kind"],
  strain: ["line", "at"],
  pin: ["line", "at", "height", "top"],
  built: ["line", "at", "depth"],
  rock: ["line", "at", "depth"],
  size: ["line", "at", "part", "set"],
  reference: ["at", "lat_lon"],
  measured: ["what", "post", "pull", "line", "at", "value"],
  payment: ["stage", "share"],
  neighbour: ["line", "share"],
  extra: ["quantity", "unit", "price"],
  rate: ["work", "per_hour"],
};

/** The name of a table of the job file in the person's language. */
export function tableWord(table: string): string {
  return wordOr(`row_${table}`, table.replaceAll("_", " "));
}

/** `Strain post 2 · north side, 120 ft`. */
export function rowWords(table: string, row: Row, item: number): string {
  const name = String(row.name ?? "");
  const first = name || say("row_numbered", { word: tableWord(table), number: item + 1 });
  const told = (TELLING[table] ?? [])
    .filter((key) => row[key] !== undefined && row[key] !== null && row[key] !== "")
    .map((key) => (key === "line" ? String(row[key]) : inPage(String(row[key])))); // a line's name is the person's own
  return told.length ? `${first} · ${told.join(", ")}` : first;
}
