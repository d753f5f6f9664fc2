/** What runs along a long section: the ground, the band of the tops, the rails and the top line. */

import { type Board, type InSight, topOf } from "./board.ts";
import { placeIn, type SectionLine } from "./model.ts";
import type { SectionScale } from "./scale.ts";
import { addBack, addLine, strokeLine, Trace } from "./trace.ts";

/** Points of the ground that lie closer are left out. */
const LEAST_STEP_PX = 0.5;
/** Of rails that lie closer than this from one to the next, the lowest and the top one stand for all. */
const APART_PX = 1;

export function drawGround(board: Board): void {
  const { brush, line, scale, frame, inks } = board;
  const { station_m: stations, elevation_m: elevations } = line.ground;
  if (stations.length === 0) return;
  const first = Math.max(0, placeIn(stations, scale.stationAt(frame.left)) - 1);
  const last = Math.min(stations.length - 1, placeIn(stations, scale.stationAt(frame.left + frame.width)));
  const step_m = LEAST_STEP_PX / scale.across_per_m;
  const trace = new Trace();
  const add = (place: number) =>
    trace.to(scale.across(stations[place] as number), scale.up(elevations[place] as number));
  let place = first;
  while (place < last) {
    add(place);
    place = Math.min(last, placeIn(stations, (stations[place] as number) + step_m, place + 1));
  }
  add(last);
  const surface = trace.taken();
  brush.strokeStyle = inks.ground_ink;
  brush.lineWidth = 1.5;
  strokeLine(brush, surface);
  brush.beginPath();
  addLine(brush, surface);
  brush.lineTo(scale.across(stations[last] as number), frame.top + frame.height + 8);
  brush.lineTo(scale.across(stations[first] as number), frame.top + frame.height + 8);
  brush.closePath();
  brush.globalAlpha = 0.45;
  brush.fillStyle = inks.ground;
  brush.fill();
  brush.globalAlpha = 1;
}

/** The band of each post; of posts that stand close, one band along all of them. */
export function drawBands(board: Board, shown: InSight): void {
  const { brush, line, scale, inks } = board;
  brush.fillStyle = inks.band;
  brush.beginPath();
  const [above, below] = [new Trace(), new Trace()];
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    if (!post || post.low_m === null || post.high_m === null) continue;
    const [x, top, bottom] = [scale.across(post.station_m), scale.up(post.high_m), scale.up(post.low_m)];
    if (shown.isDense) {
      above.to(x, top);
      below.to(x, Math.max(top + 1, bottom));
    } else brush.rect(x - 5, top, 10, Math.max(1, bottom - top));
  }
  addLine(brush, above.taken());
  addBack(brush, below.taken());
  brush.fill();
}

/** Rails bend with the ground between posts only as much as their marks do: straight from post to post. */
export function drawRails(board: Board, shown: InSight): void {
  const { brush, line, scale, inks } = board;
  brush.strokeStyle = inks.rail;
  brush.lineWidth = 1;
  brush.beginPath();
  const trace = new Trace();
  for (const drop_m of railsSeen(dropsOf(line), scale, shown)) {
    for (let place = shown.first; place < shown.end; place++) {
      const post = line.posts[place];
      if (line.openings.has(place - 1)) addLine(brush, trace.taken());
      if (post) trace.to(scale.across(post.station_m), scale.up(post.top_m - drop_m));
    }
    addLine(brush, trace.taken());
  }
  brush.stroke();
}

/** How far each rail lies below the top line; a post that is cut to a string has no marks, and its rails all the same. */
export function dropsOf(line: SectionLine): number[] {
  const marked = line.posts.find((post) => post.rail_marks_m.length > 0);
  return marked ? marked.rail_marks_m.map((mark_m) => marked.top_m - marked.ground_m - mark_m) : [];
}

/** Of the rails those that can be told from each other where posts stand close; elsewhere all. */
function railsSeen(drops_m: readonly number[], scale: SectionScale, shown: InSight): readonly number[] {
  const [first = 0, last = 0] = [drops_m[0], drops_m[drops_m.length - 1]];
  const apart_px = (Math.abs(last - first) / (drops_m.length - 1)) * scale.up_per_m;
  return shown.isDense && drops_m.length > 2 && apart_px < APART_PX ? [first, last] : drops_m;
}

export function drawTopLine(board: Board, shown: InSight): void {
  const { brush, line, scale, inks, marked } = board;
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 1.75;
  const trace = new Trace();
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    if (!post) continue;
    if (line.openings.has(place - 1)) strokeLine(brush, trace.taken());
    trace.to(scale.across(post.station_m), scale.up(topOf(post, place, marked)));
  }
  strokeLine(brush, trace.taken());
}
