/** Names that a job's fields may hold, to pick from: its own lines, and what the catalogue knows. */

import type { CatalogueAnswer } from "../api/client.ts";
import type { KnownNames } from "./fields.ts";

export function knownNames(catalogue: CatalogueAnswer | null, asked: Record<string, unknown>): KnownNames {
  const lines = ((asked.line ?? []) as Record<string, unknown>[]).map((line) => String(line.name ?? ""));
  return {
    line: lines.filter(Boolean),
    soil: catalogue?.soils ?? [],
    rail: catalogue?.rails ?? [],
    bag: catalogue?.bags ?? [],
    timber: catalogue?.timbers ?? [],
    line_pipe: catalogue?.pipes ?? [],
    end_pipe: catalogue?.pipes ?? [],
    "obstacle.kind": catalogue?.obstacles ?? [],
    "stock.kept": catalogue?.stock ?? [],
  };
}
