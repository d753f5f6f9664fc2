/** Edits after which other rows or corners of the job have other numbers. */

import type { Edit } from "../api/client.ts";

const KINDS: ReadonlySet<string> = new Set([
  "remove",
  "remove_line",
  "remove_corner",
  "insert_corner",
  "split_line",
  "join_lines",
  "own_points",
  "replace_text",
]);

/** Whether what a hand asks next, from what it sees, may name another thing than it means once this is accepted. */
export function isRenumbering(edit: Edit): boolean {
  const { kind, edits } = edit as { kind: string; edits?: readonly Edit[] };
  return KINDS.has(kind) || (edits?.some(isRenumbering) ?? false);
}
