/** A row of the job file is known again in the next state, whatever number it has there: by a key of its own. */

type Row = Record<string, unknown>;

const keys = new WeakMap<object, number>();
let last = 0;

/** What tells a row of one state from all others; a row of the next state that is the same one has it too. */
export function rowKey(row: object): number {
  const known = keys.get(row);
  if (known !== undefined) return known;
  last += 1;
  keys.set(row, last);
  return last;
}

/**
 * Give the rows of a state the keys that they had in the state before. A table that has as many rows as before is
 * taken row by row; where rows came or went, those that read the same are the same.
 */
export function followRows(before: Row, after: Row): void {
  for (const [table, rows] of Object.entries(after)) {
    const had = before[table];
    if (!isTable(rows) || !isTable(had)) continue;
    if (rows.length === had.length) followEach(had, rows);
    else followTable(had, rows);
  }
}

function isTable(value: unknown): value is Row[] {
  return (
    Array.isArray(value) &&
    value.every((row) => typeof row === "object" && row !== null && !Array.isArray(row))
  );
}

function followTable(before: readonly Row[], after: readonly Row[]): void {
  const shorter = Math.min(before.length, after.length);
  const same = (row: Row | undefined, other: Row | undefined) =>
    JSON.stringify(row) === JSON.stringify(other);
  let start = 0;
  while (start < shorter && same(before[start], after[start])) start += 1;
  let end = 0;
  while (end < shorter - start && same(before.at(-1 - end), after.at(-1 - end))) end += 1;
  followEach(before.slice(0, start), after.slice(0, start));
  followEach(before.slice(before.length - end), after.slice(after.length - end));
  followAlike(before.slice(start, before.length - end), after.slice(start, after.length - end));
}

/** Rows that read the same are the same; the rest are taken in order where as many are left, and are others where not. */
function followAlike(before: readonly Row[], after: readonly Row[]): void {
  const left = before.map((row) => ({ row, text: JSON.stringify(row) }));
  const rest = after.filter((row) => {
    const text = JSON.stringify(row);
    const place = left.findIndex((each) => each.text === text);
    const [found] = place < 0 ? [] : left.splice(place, 1);
    if (found) follow(found.row, row);
    return !found;
  });
  if (rest.length === left.length)
    followEach(
      left.map(({ row }) => row),
      rest,
    );
}

function followEach(before: readonly Row[], after: readonly Row[]): void {
  before.forEach((row, place) => {
    const now = after[place];
    if (now) follow(row, now);
  });
}

function follow(before: Row, after: Row): void {
  keys.set(after, rowKey(before));
  followRows(before, after); // an alternative holds tables of its own
}
