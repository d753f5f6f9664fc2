/** Where something of the job file stands in its text. */

type Place = readonly (string | number)[];

const HEADER = /^\s*(\[\[?)\s*([\w.-]+)\s*\]\]?/;
const KEY = /^\s*([\w-]+)\s*=/;

/** The line of the text that a place is in, from 1: its key's, else its table's; 0 where it is not found. */
export function lineOfPlace(text: string, place: Place): number {
  const counts = new Map<string, number>();
  let table: Place = [];
  let found = { line: 0, depth: 0 };
  const meet = (path: Place, line: number) => {
    const isThere = path.every((step, i) => step === place[i]);
    if (isThere && path.length > found.depth) found = { line, depth: path.length };
  };
  text.split("\n").forEach((words, i) => {
    const [, brackets, name] = HEADER.exec(words) ?? [];
    if (brackets && name) {
      table = placeOf(name.split("."), brackets === "[[", counts);
      // a table that has rows is found by its name alone too, at its first
      meet(typeof table.at(-1) === "number" ? table.slice(0, -1) : table, i + 1);
      meet(table, i + 1);
      return;
    }
    const [, key] = KEY.exec(words) ?? [];
    if (key) meet([...table, key], i + 1);
  });
  return found.line;
}

/** The line that the reader of the text names itself: `line 3 is not valid TOML`. */
export function lineSaid(sentence: string): number {
  return Number(/\bline (\d+) is not valid TOML/.exec(sentence)?.[1] ?? 0);
}

/** A header's name with the numbers of the rows that it is in; another row of a repeated table counts on. */
function placeOf(names: readonly string[], isRow: boolean, counts: Map<string, number>): Place {
  const place: (string | number)[] = [];
  names.forEach((name, i) => {
    place.push(name);
    const at = place.join(" ");
    if (isRow && i === names.length - 1) counts.set(at, (counts.get(at) ?? -1) + 1);
    const count = counts.get(at);
    if (count !== undefined) place.push(count);
  });
  return place;
}
