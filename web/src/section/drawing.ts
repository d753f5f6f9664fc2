/** The long section on a canvas: ground, bands, posts, rails, top line, cuts and uplift, at a scale. */

import type { System } from "../units/show.ts";
import { placeFrom, type SectionLine, type SectionPost } from "./model.ts";
import { axisSteps, type Frame, type SectionScale } from "./scale.ts";
import { drawNames, drawSaid } from "./words.ts";

export interface Inks {
  ink: string;
  soft: string;
  line: string;
  faint: string;
  paper: string;
  accent: string;
  ground: string;
  ground_ink: string;
  band: string;
  rail: string;
}

export interface Marked {
  /** Places in the line's posts. */
  hovered: number;
  selected: number;
  /** A top under the hand, not yet answered. */
  dragged: { place: number; top_m: number } | null;
  /** A foot under the hand, and the station where its post would stand. [m] */
  shifted: { place: number; station_m: number } | null;
}

type Brush = CanvasRenderingContext2D;

const FOOT_M = 0.3048;
/** Pixels a metre from which arrows of uplift do not run into one band. */
const ARROWS_FROM = 6;
/** Pixels between posts under which bands, line posts and holes are not drawn one by one. */
const DENSE_PX = 4;
/** Points of the ground that lie closer are left out. */
const LEAST_STEP_PX = 0.5;
const LETTERS = "12px system-ui, sans-serif";

/** Draw everything of a line between two stations. */
export function drawSection(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  inks: Inks,
  marked: Marked,
  system: System,
): void {
  brush.save();
  brush.font = LETTERS;
  drawGrid(brush, line, scale, frame, inks, system);
  brush.beginPath();
  brush.rect(frame.left, frame.top - 4, frame.width, frame.height + 8);
  brush.clip();
  drawGround(brush, line, scale, frame, inks);
  const shown = shownOf(line, scale, frame);
  drawBands(brush, line, scale, inks, shown);
  drawRails(brush, line, scale, inks, shown);
  if (!shown.isDense) drawCuts(brush, line, scale, inks, marked, shown);
  drawPosts(brush, line, scale, inks, marked, shown);
  drawShifted(brush, line, scale, inks, marked);
  drawTopLine(brush, line, scale, inks, marked, shown);
  brush.restore();
  brush.save();
  brush.font = LETTERS;
  drawNames(brush, line, scale, frame, inks);
  drawSaid(brush, line, scale, frame, inks, marked, system);
  brush.restore();
}

/** Stations stand under the drawing as they are along the line: past a closed line's end they begin again. */
function drawGrid(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  inks: Inks,
  system: System,
): void {
  const unit = system === "us" ? FOOT_M : 1;
  brush.strokeStyle = inks.faint;
  brush.fillStyle = inks.soft;
  brush.lineWidth = 1;
  brush.textAlign = "center";
  brush.textBaseline = "top";
  for (const [station, along_m] of stationTicks(line, scale, frame, unit)) {
    const x = Math.round(scale.across(along_m)) + 0.5;
    rule(brush, x, frame.top, x, frame.top + frame.height);
    brush.fillText(`${Number(station.toFixed(2)).toLocaleString("en-US")}`, x, frame.top + frame.height + 4);
  }
  const heights = {
    low: scale.elevationAt(frame.top + frame.height) / unit,
    high: scale.elevationAt(frame.top) / unit,
  };
  brush.textAlign = "right";
  brush.textBaseline = "middle";
  for (const step of axisSteps(heights, frame.height / 36)) {
    const y = Math.round(scale.up(step * unit)) + 0.5;
    rule(brush, frame.left, y, frame.left + frame.width, y);
    brush.fillText(`${Number(step.toFixed(2)).toLocaleString("en-US")}`, frame.left - 6, y);
  }
  brush.textAlign = "left";
  brush.textBaseline = "top";
  brush.fillText(system === "us" ? "ft" : "m", 6, 4);
}

/** Round stations in view, each with its way from the first post: a closed line's begin again at its start. */
function stationTicks(
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  unit: number,
): [number, number][] {
  const low = line.start_m + scale.stationAt(frame.left);
  const high = line.start_m + scale.stationAt(frame.left + frame.width);
  const whole = line.start_m > 0 ? line.length_m : Number.POSITIVE_INFINITY;
  const wanted = frame.width / 90 / (high - low);
  const within = (from: number, to: number, shift_m: number): [number, number][] =>
    to > from
      ? axisSteps({ low: from / unit, high: to / unit }, wanted * (to - from)).map((step) => [
          step,
          step * unit + shift_m - line.start_m,
        ])
      : [];
  return [...within(low, Math.min(high, whole), 0), ...within(Math.max(0, low - whole), high - whole, whole)];
}

function rule(brush: Brush, x0: number, y0: number, x1: number, y1: number): void {
  brush.beginPath();
  brush.moveTo(x0, y0);
  brush.lineTo(x1, y1);
  brush.stroke();
}

/** Posts that a frame shows, with one beyond each edge so that lines run out of it: first place and the one past the last. */
interface Shown {
  first: number;
  end: number;
  /** The posts stand so close that marks of their own would run into one stroke. */
  isDense: boolean;
}

function shownOf(line: SectionLine, scale: SectionScale, frame: Frame): Shown {
  const stationOf = (post: SectionPost) => post.station_m;
  const first = Math.max(0, placeFrom(line.posts, scale.stationAt(frame.left), stationOf) - 1);
  const past = placeFrom(line.posts, scale.stationAt(frame.left + frame.width), stationOf);
  const end = Math.min(line.posts.length, past + 1);
  return { first, end, isDense: frame.width / Math.max(1, end - first) < DENSE_PX };
}

function drawGround(brush: Brush, line: SectionLine, scale: SectionScale, frame: Frame, inks: Inks): void {
  const { ground } = line;
  const stationOf = (each: readonly [number, number]) => each[0];
  const first = Math.max(0, placeFrom(ground, scale.stationAt(frame.left), stationOf) - 1);
  const past = placeFrom(ground, scale.stationAt(frame.left + frame.width), stationOf);
  const last = Math.min(ground.length - 1, past);
  const [from, to] = [ground[first], ground[last]];
  if (!from || !to) return;
  brush.beginPath();
  let drawn = Number.NEGATIVE_INFINITY;
  for (let place = first; place <= last; place++) {
    const [station, elevation] = ground[place] as readonly [number, number];
    const x = scale.across(station);
    if (x - drawn < LEAST_STEP_PX && place < last) continue;
    if (place === first) brush.moveTo(x, scale.up(elevation));
    else brush.lineTo(x, scale.up(elevation));
    drawn = x;
  }
  brush.strokeStyle = inks.ground_ink;
  brush.lineWidth = 1.5;
  brush.stroke();
  brush.lineTo(scale.across(to[0]), frame.top + frame.height + 8);
  brush.lineTo(scale.across(from[0]), frame.top + frame.height + 8);
  brush.closePath();
  brush.globalAlpha = 0.45;
  brush.fillStyle = inks.ground;
  brush.fill();
  brush.globalAlpha = 1;
}

/** The band of each post; of posts that stand close, one band along all of them. */
function drawBands(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks, shown: Shown): void {
  brush.fillStyle = inks.band;
  brush.beginPath();
  const below: [number, number][] = [];
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    if (!post || post.low_m === null || post.high_m === null) continue;
    const [x, top, bottom] = [scale.across(post.station_m), scale.up(post.high_m), scale.up(post.low_m)];
    if (shown.isDense) {
      brush.lineTo(x, top);
      below.push([x, Math.max(top + 1, bottom)]);
    } else brush.rect(x - 5, top, 10, Math.max(1, bottom - top));
  }
  for (const [x, y] of below.reverse()) brush.lineTo(x, y);
  brush.fill();
}

/** Rails bend with the ground between posts only as much as their marks do: straight from post to post. */
function drawRails(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks, shown: Shown): void {
  brush.strokeStyle = inks.rail;
  brush.lineWidth = 1;
  brush.beginPath();
  const rails = Math.max(
    0,
    ...line.posts.slice(shown.first, shown.first + 2).map((post) => post.rail_marks_m.length),
  );
  for (let rail = 0; rail < rails; rail++) {
    let isBroken = true;
    for (let place = shown.first; place < shown.end; place++) {
      const post = line.posts[place];
      const mark = post?.rail_marks_m[rail];
      if (!post || mark === undefined) {
        isBroken = true;
        continue;
      }
      const [x, y] = [scale.across(post.station_m), scale.up(post.ground_m + mark)];
      if (isBroken || line.openings.has(place - 1)) brush.moveTo(x, y);
      else brush.lineTo(x, y);
      isBroken = false;
    }
  }
  brush.stroke();
}

function drawPosts(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  inks: Inks,
  marked: Marked,
  shown: Shown,
): void {
  const places = Array.from({ length: shown.end - shown.first }, (_, step) => shown.first + step);
  const isMarked = (place: number) => place === marked.selected || place === marked.hovered;
  const isFixed = (place: number) => line.posts[place]?.role !== "line";
  const strokes = (of: readonly number[], ends: (post: SectionPost, place: number) => [number, number]) => {
    brush.beginPath();
    for (const place of of) {
      const post = line.posts[place];
      if (!post) continue;
      const [x, [from_m, to_m]] = [scale.across(post.station_m), ends(post, place)];
      brush.moveTo(x, scale.up(from_m));
      brush.lineTo(x, scale.up(to_m));
    }
    brush.stroke();
  };
  const standing = (post: SectionPost, place: number): [number, number] => [
    post.ground_m,
    topOf(post, place, marked),
  ];
  const inGround = (post: SectionPost): [number, number] => [post.ground_m, post.ground_m - post.embedment_m];
  const fixed = places.filter(isFixed);
  brush.strokeStyle = inks.ink;
  if (!shown.isDense) {
    brush.lineWidth = 1.5;
    strokes(
      places.filter((place) => !isFixed(place)),
      standing,
    );
  }
  brush.lineWidth = 3;
  strokes(fixed, standing);
  brush.setLineDash([3, 3]);
  brush.lineWidth = 1;
  strokes(shown.isDense ? fixed : places, inGround);
  brush.strokeStyle = inks.accent;
  strokes(places.filter(isMarked), inGround);
  brush.setLineDash([]);
  for (const place of places.filter(isMarked)) {
    brush.lineWidth = (isFixed(place) ? 3 : 1.5) + (place === marked.selected ? 1.5 : 0);
    strokes([place], standing);
  }
  for (const place of places) {
    const post = line.posts[place];
    if (!post) continue;
    const x = scale.across(post.station_m);
    if (post.uplift_n > 0 && scale.across_per_m > ARROWS_FROM)
      arrow(brush, x, scale.up(post.ground_m) - 2, inks.accent);
    if (post.isPinned) pin(brush, x, scale.up(topOf(post, place, marked)), inks);
  }
}

/** What is sawn off: the stock above each top, faint. */
function drawCuts(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  inks: Inks,
  marked: Marked,
  shown: Shown,
): void {
  brush.strokeStyle = inks.soft;
  brush.lineWidth = 1;
  brush.setLineDash([2, 2]);
  brush.beginPath();
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    const stock_m = post?.cut_m ? post.top_m + post.cut_m : null;
    if (!post || stock_m === null || stock_m <= topOf(post, place, marked)) continue;
    const [x, low, high] = [
      Math.round(scale.across(post.station_m)),
      scale.up(topOf(post, place, marked)),
      scale.up(stock_m),
    ];
    brush.rect(x - 2.5, high, 5, low - high);
  }
  brush.stroke();
  brush.setLineDash([]);
}

/** Where a post would stand that a hand moves along the line. */
function drawShifted(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  inks: Inks,
  { shifted }: Marked,
): void {
  const post = shifted && line.posts[shifted.place];
  if (!post) return;
  const x = scale.across(shifted.station_m);
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 2;
  brush.setLineDash([5, 4]);
  rule(brush, x, scale.up(post.top_m), x, scale.up(post.ground_m - post.embedment_m));
  brush.setLineDash([]);
}

export function topOf(post: SectionPost, place: number, marked: Marked): number {
  return marked.dragged?.place === place ? marked.dragged.top_m : post.top_m;
}

function drawTopLine(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  inks: Inks,
  marked: Marked,
  shown: Shown,
): void {
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 1.75;
  brush.beginPath();
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    if (!post) continue;
    const [x, y] = [scale.across(post.station_m), scale.up(topOf(post, place, marked))];
    if (place === shown.first || line.openings.has(place - 1)) brush.moveTo(x, y);
    else brush.lineTo(x, y);
  }
  brush.stroke();
}

function arrow(brush: Brush, x: number, y: number, ink: string): void {
  brush.fillStyle = ink;
  brush.beginPath();
  brush.moveTo(x, y - 12);
  brush.lineTo(x - 4, y - 5);
  brush.lineTo(x + 4, y - 5);
  brush.closePath();
  brush.fill();
}

function pin(brush: Brush, x: number, y: number, inks: Inks): void {
  brush.fillStyle = inks.paper;
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 2;
  brush.beginPath();
  brush.rect(x - 4, y - 4, 8, 8);
  brush.fill();
  brush.stroke();
}
