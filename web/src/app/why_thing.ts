/** The name by which the reasons of what is chosen are asked: a post, or the one that stands there; a gate or crossing. */

import type { PostRow } from "../api/records.ts";
import type { Held } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";

const SAME_POST_M = 0.3; // a mark nearer than this along a line is on that post, as the edits have it

/** Empty where nothing is chosen that has a why of its own. */
export function whyThing(
  held: Held | null,
  model: PlanModel | null,
  asked: Readonly<Record<string, unknown>>,
  posts: readonly PostRow[],
): string {
  if (!held) return "";
  if (held.kind === "post" || held.kind === "gate") return held.id;
  if (held.kind === "mark" && held.table === "crossing") {
    const row = (asked.crossing as { name?: string }[] | undefined)?.[held.row ?? -1];
    return row?.name || `crossing ${(held.row ?? 0) + 1}`;
  }
  if (held.kind === "mark") return standing(posts, held.line ?? "", held.station_m ?? Number.NaN);
  if (held.kind === "corner") return atCorner(held, model, posts);
  return "";
}

/** The post that stands at a station of a line. */
function standing(posts: readonly PostRow[], line: string, station_m: number): string {
  const away = (post: PostRow) => Math.abs((post.station_m ?? Number.NaN) - station_m);
  const [nearest] = posts
    .filter((post) => post.line === line && away(post) <= SAME_POST_M)
    .sort((a, b) => away(a) - away(b));
  return nearest?.id ?? "";
}

/** The post in a corner: hole and corner lie within a post of each other. */
function atCorner(held: Held, model: PlanModel | null, posts: readonly PostRow[]): string {
  const point = model?.lines.find((line) => line.name === held.line)?.points[held.corner ?? -1];
  if (!point) return "";
  const away = (post: PostRow) =>
    Math.hypot((post.x_m ?? Number.NaN) - point[0], (post.y_m ?? Number.NaN) - point[1]);
  const [nearest] = posts.filter((post) => away(post) <= SAME_POST_M).sort((a, b) => away(a) - away(b));
  return nearest?.id ?? "";
}
