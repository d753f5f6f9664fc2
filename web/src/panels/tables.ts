/** Tables of the job file as a builder looks for them. */

export const GROUPS = [
  ["group_job", ["job", "stock", "site", "soil_zone"]],
  [
    "group_fence",
    [
      "fence",
      "strand",
      "posts",
      "holes",
      "brace",
      "size",
      "top_line",
      "rolls",
      "tension",
      "strength",
      "catalogue",
    ],
  ],
  ["group_lines", ["line", "gate", "crossing", "obstacle", "strain", "pin", "built", "rock"]],
  ["group_site_work", ["stake_out", "reference", "measured", "load"]],
  [
    "group_price",
    ["price", "preparation", "extra", "payment", "neighbour", "rate", "risk", "alternative", "programme"],
  ],
  ["group_papers", ["paper"]],
] as const;

export const TABLES: readonly string[] = GROUPS.flatMap(([, tables]) => tables);
