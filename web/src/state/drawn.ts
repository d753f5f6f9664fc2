/** From the live tables to what plan and section draw; nothing of the trade is computed here. */

import type { Point } from "../flat/bearing.ts";
import type { PlanGate, PlanModel, PlanObstacle, PlanPost } from "../plan/model.ts";
import type { SectionLine, SectionPost } from "../section/model.ts";
import { column, numbers, type Tables, texts } from "./tables.ts";

/** Heights above ground between which a top may stand. [m] */
export interface Bands {
  lowest_top_m: number;
  highest_top_m: number;
}

const SHAPES: Record<string, PlanObstacle["shape"]> = { point: "point", line: "line", polygon: "area" };

const pointOf = (pair: readonly number[]): Point => [pair[0] ?? 0, pair[1] ?? 0];

/** Columns that the plan draws, and those that the long section draws, by table. */
const PLAN_POSTS = ["id", "role", "x_m", "y_m", "line", "station_m", "utilisation"];
const SECTION_POSTS = [
  "id",
  "role",
  "ground_m",
  "above_ground_m",
  "rail_marks_m",
  "embedment_m",
  "cut_m",
  "uplift_n",
  "is_pinned",
];
const SECTION_SPANS = [
  "line",
  "kind",
  "from_post",
  "to_post",
  "from_station_m",
  "to_station_m",
  "ground_samples",
];
const GROUND = ["along_m", "ground_m"];

/** Whether columns of a table are the same objects in two answers: an answer leaves alone what it does not change. */
export function unchanged(before: Tables, now: Tables, table: string, keys: readonly string[]): boolean {
  const [was, is] = [before[table], now[table]];
  return was?.rows === is?.rows && keys.every((key) => was?.columns[key] === is?.columns[key]);
}

/** The plan of the tables as far as they have come; parts whose columns are the same objects are kept from before. */
export function planOf(
  tables: Tables,
  before: { tables: Tables; plan: PlanModel } | null,
  were: readonly Point[] = [],
): PlanModel {
  const same = (...names: string[]) =>
    before !== null && names.every((name) => before.tables[name] === tables[name]);
  const kept = before !== null && unchanged(before.tables, tables, "posts", PLAN_POSTS.slice(0, 4));
  return {
    were,
    lines: before && same("drawn") ? before.plan.lines : drawnLines(tables),
    obstacles: before && same("obstacles") ? before.plan.obstacles : obstaclesOf(tables),
    posts:
      before && unchanged(before.tables, tables, "posts", PLAN_POSTS)
        ? before.plan.posts
        : postsOf(tables, before?.plan.posts ?? []),
    braces: before && kept && same("braces") ? before.plan.braces : bracesOf(tables),
    gates: before && kept && same("gates") ? before.plan.gates : gatesOf(tables),
  };
}

function drawnLines(tables: Tables): PlanModel["lines"] {
  const points = column<number[][]>(tables, "drawn", "points_m") ?? [];
  const closed = column<boolean>(tables, "drawn", "closed") ?? [];
  return texts(tables, "drawn", "name").map((name, row) => ({
    name,
    points: (points[row] ?? []).map(pointOf),
    isClosed: closed[row] ?? false,
  }));
}

function obstaclesOf(tables: Tables): PlanModel["obstacles"] {
  const points = column<number[][]>(tables, "obstacles", "points_m") ?? [];
  const [kinds, shapes, colours, letters] = ["kind", "geometry", "colour", "letter"].map((key) =>
    texts(tables, "obstacles", key),
  );
  const clearance = numbers(tables, "obstacles", "clearance_m");
  const radius = numbers(tables, "obstacles", "radius_m");
  return texts(tables, "obstacles", "name").map((name, row) => ({
    name,
    kind: kinds?.[row] ?? "",
    shape: SHAPES[shapes?.[row] ?? ""] ?? "line",
    points: (points[row] ?? []).map(pointOf),
    colour: colours?.[row] ?? "",
    letter: letters?.[row] ?? "",
    reach_m: (clearance[row] ?? 0) + (radius[row] ?? 0),
  }));
}

/** Where some of the posts stand, by their names. */
function placesOf(tables: Tables, wanted: ReadonlySet<string>): Map<string, Point> {
  const [x, y] = [numbers(tables, "posts", "x_m"), numbers(tables, "posts", "y_m")];
  const places = new Map<string, Point>();
  texts(tables, "posts", "id").forEach((id, row) => {
    if (wanted.has(id)) places.set(id, [x[row] ?? 0, y[row] ?? 0]);
  });
  return places;
}

function postsOf(tables: Tables, before: PlanModel["posts"]): PlanModel["posts"] {
  const [x, y] = [numbers(tables, "posts", "x_m"), numbers(tables, "posts", "y_m")];
  const [roles, lines] = [texts(tables, "posts", "role"), texts(tables, "posts", "line")];
  const stations = numbers(tables, "posts", "station_m");
  const utilisation = column<number | null>(tables, "posts", "utilisation");
  return texts(tables, "posts", "id").map((id, row) => {
    const was = before[row];
    const [east, north] = [x[row] ?? 0, y[row] ?? 0];
    const post = {
      id,
      role: roles[row] ?? "",
      at: was && was.at[0] === east && was.at[1] === north ? was.at : ([east, north] as const),
      line: lines[row] ?? "",
      station_m: stations[row] ?? 0,
      utilisation: utilisation?.[row] ?? null,
    };
    return was && isSamePost(was, post) ? was : post;
  });
}

/** Whether a post is told as it was: of many an answer changes few, and what stays is not made anew. */
function isSamePost(was: PlanPost, is: PlanPost): boolean {
  return (
    was.at === is.at &&
    was.id === is.id &&
    was.station_m === is.station_m &&
    was.utilisation === is.utilisation &&
    was.role === is.role &&
    was.line === is.line
  );
}

function bracesOf(tables: Tables): PlanModel["braces"] {
  const [x, y] = [numbers(tables, "braces", "x_m"), numbers(tables, "braces", "y_m")];
  const posts = texts(tables, "braces", "post");
  const places = placesOf(tables, new Set(posts));
  return posts.flatMap((post, row) => {
    const from = places.get(post);
    return from ? [{ id: `B${row + 1}`, from, to: [x[row] ?? 0, y[row] ?? 0] as Point }] : [];
  });
}

function gatesOf(tables: Tables): PlanGate[] {
  const [names, lines, froms, tos, hinges, swings] = [
    "name",
    "line",
    "from_post",
    "to_post",
    "hinge_post",
    "swing",
  ].map((key) => texts(tables, "gates", key));
  const [stations, leaves] = [numbers(tables, "gates", "station_m"), numbers(tables, "gates", "leaf_m")];
  const places = placesOf(tables, new Set([...(froms ?? []), ...(tos ?? [])]));
  return (names ?? []).flatMap((name, row) => {
    const [from, to] = [places.get(froms?.[row] ?? ""), places.get(tos?.[row] ?? "")];
    if (!from || !to) return [];
    const isNear = hinges?.[row] !== tos?.[row];
    const opensLeft = swings?.[row] !== "right";
    return [
      {
        name,
        line: lines?.[row] ?? "",
        station_m: stations[row] ?? 0,
        hinge: isNear ? from : to,
        latch: isNear ? to : from,
        opens: opensLeft === isNear ? 1 : -1,
        leaf_m: leaves[row] ?? 0,
      },
    ];
  });
}

/** What is found in a column of names, looked for once: it is asked for at each answer, the column is seldom another. */
function foundOnce<Found>(find: (names: readonly string[]) => Found): (names: readonly string[]) => Found {
  const known = new WeakMap<readonly string[], { found: Found }>();
  return (names) => {
    const kept = known.get(names) ?? { found: find(names) };
    known.set(names, kept);
    return kept.found;
  };
}

const distinctIn = foundOnce((names): readonly string[] => [...new Set(names)].filter(Boolean));
const rowByName = foundOnce((names) => new Map(names.map((name, row) => [name, row])));
const rowsByName = foundOnce((names) => {
  const rows = new Map<string, number[]>();
  for (const [row, name] of names.entries()) {
    const found = rows.get(name);
    if (found) found.push(row);
    else rows.set(name, [row]);
  }
  return rows;
});

/** Names of the lines that have a long section, in the job's order. */
export function sectionNames(tables: Tables): readonly string[] {
  return distinctIn(texts(tables, "spans", "line"));
}

export interface DrawnSection {
  tables: Tables;
  bands: Bands | null;
  line: SectionLine;
}

/**
 * The long section of one line; null where its tables have not come. Past a closed line's end stations run on. It is
 * the one from before where nothing that it draws has changed; its ground is where that has not.
 */
export function sectionOf(
  tables: Tables,
  line: string,
  bands: Bands | null,
  before: DrawnSection | null = null,
): SectionLine | null {
  const same = (table: string, keys: readonly string[]) =>
    before?.line.name === line && unchanged(before.tables, tables, table, keys);
  const isGroundSame =
    same("ground", GROUND) && same("spans", SECTION_SPANS) && same("posts", ["id", "ground_m"]);
  const isBandSame =
    before?.bands?.lowest_top_m === bands?.lowest_top_m &&
    before?.bands?.highest_top_m === bands?.highest_top_m;
  if (before && isGroundSame && isBandSame && same("posts", SECTION_POSTS)) return before.line;
  const lines = texts(tables, "spans", "line");
  const kinds = texts(tables, "spans", "kind");
  const [froms, tos] = [texts(tables, "spans", "from_post"), texts(tables, "spans", "to_post")];
  const [starts, ends] = [
    numbers(tables, "spans", "from_station_m"),
    numbers(tables, "spans", "to_station_m"),
  ];
  const rows = rowsByName(lines).get(line) ?? [];
  const [first] = rows;
  if (first === undefined) return null;
  const start = starts[first] ?? 0;
  const whole = lineLength(tables, line);
  const postRows = rowByName(texts(tables, "posts", "id"));
  const make = postMaker(tables, bands);
  const were = before?.line.name === line ? before.line.posts : [];
  const posts: SectionPost[] = [];
  const stand = (name: string | undefined, station_m: number) => {
    const post = make(postRows.get(name ?? "") ?? -1, station_m);
    const was = were[posts.length];
    posts.push(was && isSameStanding(was, post) ? was : post);
  };
  const openings = new Set<number>();
  const begins: number[] = [];
  let at = 0;
  rows.forEach((row, place) => {
    if (place === 0) stand(froms[row], 0);
    begins.push(at);
    const step = (ends[row] ?? 0) - (starts[row] ?? 0);
    at += step < 0 ? step + whole : step;
    stand(tos[row], at);
    if ((kinds[row] ?? "fence") !== "fence") openings.add(place);
  });
  return {
    name: line,
    start_m: start,
    length_m: at,
    posts,
    ground: before && isGroundSame ? before.line.ground : groundOf(tables, rows, begins, posts),
    openings,
  };
}

function lineLength(tables: Tables, line: string): number {
  const row = texts(tables, "lines", "name").indexOf(line);
  return numbers(tables, "lines", "length_m")[row] ?? 0;
}

const NO_MARKS: readonly number[] = [];

function postMaker(tables: Tables, bands: Bands | null): (row: number, station_m: number) => SectionPost {
  const ids = texts(tables, "posts", "id");
  const roles = texts(tables, "posts", "role");
  const ground = numbers(tables, "posts", "ground_m");
  const above = numbers(tables, "posts", "above_ground_m");
  const marks = column<number[]>(tables, "posts", "rail_marks_m");
  const embedment = column<number | null>(tables, "posts", "embedment_m");
  const cut = column<number | null>(tables, "posts", "cut_m");
  const uplift = column<number | null>(tables, "posts", "uplift_n");
  const pinned = column<boolean>(tables, "posts", "is_pinned");
  return (row, station_m) => {
    const ground_m = ground[row] ?? 0;
    const height_m = above[row] ?? Number.NaN;
    return {
      index: row,
      id: ids[row] ?? "",
      role: roles[row] ?? "",
      station_m,
      ground_m,
      top_m: ground_m + (Number.isFinite(height_m) ? height_m : (bands?.highest_top_m ?? 0)),
      low_m: bands ? ground_m + bands.lowest_top_m : null,
      high_m: bands ? ground_m + bands.highest_top_m : null,
      rail_marks_m: marks?.[row] ?? NO_MARKS,
      embedment_m: embedment?.[row] ?? 0,
      cut_m: cut?.[row] ?? null,
      uplift_n: uplift?.[row] ?? 0,
      isPinned: pinned?.[row] ?? false,
    };
  };
}

/** Whether a post stands in the section as it did. */
function isSameStanding(was: SectionPost, is: SectionPost): boolean {
  return (
    was.station_m === is.station_m &&
    was.top_m === is.top_m &&
    was.ground_m === is.ground_m &&
    was.index === is.index &&
    was.id === is.id &&
    was.role === is.role &&
    was.low_m === is.low_m &&
    was.high_m === is.high_m &&
    was.rail_marks_m === is.rail_marks_m &&
    was.embedment_m === is.embedment_m &&
    was.cut_m === is.cut_m &&
    was.uplift_n === is.uplift_n &&
    was.isPinned === is.isPinned
  );
}

/** Stations and elevations along a line: at its posts, and at the samples between them. */
function groundOf(
  tables: Tables,
  rows: readonly number[],
  begins: readonly number[],
  posts: readonly SectionPost[],
): SectionLine["ground"] {
  const counts = numbers(tables, "spans", "ground_samples");
  const along = numbers(tables, "ground", "along_m");
  const heights = numbers(tables, "ground", "ground_m");
  const most = rows.reduce((sum, row) => sum + (counts[row] || 0), posts.length);
  const [stations, elevations] = [new Float64Array(most), new Float64Array(most)];
  let [sample, span, count] = [0, 0, 0];
  const put = (station_m: number, elevation_m: number) => {
    stations[count] = station_m;
    elevations[count] = elevation_m;
    count += 1;
  };
  rows.forEach((row, place) => {
    const post = posts[place];
    if (post) put(post.station_m, post.ground_m);
    for (; span < row; span++) sample += counts[span] || 0;
    for (let last = sample + (counts[row] || 0); sample < last; sample++)
      put((begins[place] ?? 0) + (along[sample] ?? 0), heights[sample] ?? 0);
    span = row + 1;
  });
  const end = posts[rows.length];
  if (end) put(end.station_m, end.ground_m);
  return { station_m: stations.subarray(0, count), elevation_m: elevations.subarray(0, count) };
}
