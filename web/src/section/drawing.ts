/** The long section on a canvas: ground, bands, posts, rails, top line, cuts and uplift, at a scale. */

import { type System, showLong, showSmall } from "../units/show.ts";
import type { SectionLine, SectionPost } from "./model.ts";
import { axisSteps, type Frame, type SectionScale } from "./scale.ts";

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
}

type Brush = CanvasRenderingContext2D;

const FOOT_M = 0.3048;
/** Pixels a metre from which arrows of uplift do not run into one band. */
const ARROWS_FROM = 6;
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
  drawGrid(brush, scale, frame, inks, system);
  brush.beginPath();
  brush.rect(frame.left, frame.top - 4, frame.width, frame.height + 8);
  brush.clip();
  drawGround(brush, line, scale, frame, inks);
  drawBands(brush, line, scale, inks);
  drawRails(brush, line, scale, inks);
  drawPosts(brush, line, scale, inks, marked);
  drawTopLine(brush, line, scale, inks, marked);
  brush.restore();
  brush.save();
  brush.font = LETTERS;
  drawNames(brush, line, scale, frame, inks, marked, system);
  brush.restore();
}

function drawGrid(brush: Brush, scale: SectionScale, frame: Frame, inks: Inks, system: System): void {
  const unit = system === "us" ? FOOT_M : 1;
  brush.strokeStyle = inks.faint;
  brush.fillStyle = inks.soft;
  brush.lineWidth = 1;
  const stations = {
    low: scale.stationAt(frame.left) / unit,
    high: scale.stationAt(frame.left + frame.width) / unit,
  };
  brush.textAlign = "center";
  brush.textBaseline = "top";
  for (const step of axisSteps(stations, frame.width / 90)) {
    const x = Math.round(scale.across(step * unit)) + 0.5;
    rule(brush, x, frame.top, x, frame.top + frame.height);
    brush.fillText(`${Number(step.toFixed(2)).toLocaleString("en-US")}`, x, frame.top + frame.height + 4);
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

function rule(brush: Brush, x0: number, y0: number, x1: number, y1: number): void {
  brush.beginPath();
  brush.moveTo(x0, y0);
  brush.lineTo(x1, y1);
  brush.stroke();
}

function drawGround(brush: Brush, line: SectionLine, scale: SectionScale, frame: Frame, inks: Inks): void {
  const [first] = line.ground;
  const last = line.ground.at(-1);
  if (!first || !last) return;
  brush.beginPath();
  line.ground.forEach(([station, elevation], i) => {
    const [x, y] = [scale.across(station), scale.up(elevation)];
    if (i) brush.lineTo(x, y);
    else brush.moveTo(x, y);
  });
  brush.strokeStyle = inks.ground_ink;
  brush.lineWidth = 1.5;
  brush.stroke();
  brush.lineTo(scale.across(last[0]), frame.top + frame.height + 8);
  brush.lineTo(scale.across(first[0]), frame.top + frame.height + 8);
  brush.closePath();
  brush.globalAlpha = 0.45;
  brush.fillStyle = inks.ground;
  brush.fill();
  brush.globalAlpha = 1;
}

function drawBands(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks): void {
  brush.fillStyle = inks.band;
  for (const post of line.posts) {
    if (post.low_m === null || post.high_m === null) continue;
    const [top, bottom] = [scale.up(post.high_m), scale.up(post.low_m)];
    brush.fillRect(scale.across(post.station_m) - 5, top, 10, Math.max(1, bottom - top));
  }
}

/** Rails bend with the ground between posts only as much as their marks do: straight from post to post. */
function drawRails(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks): void {
  brush.strokeStyle = inks.rail;
  brush.lineWidth = 1;
  brush.beginPath();
  for (let place = 1; place < line.posts.length; place++) {
    const [from, to] = [line.posts[place - 1], line.posts[place]];
    if (!from || !to || line.openings.has(place - 1)) continue;
    const count = Math.min(from.rail_marks_m.length, to.rail_marks_m.length);
    for (let rail = 0; rail < count; rail++) {
      brush.moveTo(scale.across(from.station_m), scale.up(from.ground_m + (from.rail_marks_m[rail] ?? 0)));
      brush.lineTo(scale.across(to.station_m), scale.up(to.ground_m + (to.rail_marks_m[rail] ?? 0)));
    }
  }
  brush.stroke();
}

function drawPosts(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks, marked: Marked): void {
  line.posts.forEach((post, place) => {
    const x = scale.across(post.station_m);
    const isFixed = post.role !== "line";
    const isMarked = place === marked.selected || place === marked.hovered;
    brush.strokeStyle = isMarked ? inks.accent : inks.ink;
    brush.lineWidth = (isFixed ? 3 : 1.5) + (place === marked.selected ? 1.5 : 0);
    rule(brush, x, scale.up(post.ground_m), x, scale.up(topOf(post, place, marked)));
    brush.setLineDash([3, 3]);
    brush.lineWidth = 1;
    rule(brush, x, scale.up(post.ground_m), x, scale.up(post.ground_m - post.embedment_m));
    brush.setLineDash([]);
    if (post.uplift_n > 0 && scale.across_per_m > ARROWS_FROM)
      arrow(brush, x, scale.up(post.ground_m) - 2, inks.accent);
    if (post.isPinned) pin(brush, x, scale.up(topOf(post, place, marked)), inks);
  });
}

function topOf(post: SectionPost, place: number, marked: Marked): number {
  return marked.dragged?.place === place ? marked.dragged.top_m : post.top_m;
}

function drawTopLine(brush: Brush, line: SectionLine, scale: SectionScale, inks: Inks, marked: Marked): void {
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 1.75;
  brush.beginPath();
  line.posts.forEach((post, place) => {
    const [x, y] = [scale.across(post.station_m), scale.up(topOf(post, place, marked))];
    if (place === 0 || line.openings.has(place - 1)) brush.moveTo(x, y);
    else brush.lineTo(x, y);
  });
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

/** Names of fixed posts where there is room, and what the marked post says. */
function drawNames(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  inks: Inks,
  marked: Marked,
  system: System,
): void {
  brush.textAlign = "center";
  brush.textBaseline = "bottom";
  brush.fillStyle = inks.ink;
  let free = Number.NEGATIVE_INFINITY;
  line.posts.forEach((post) => {
    const x = scale.across(post.station_m);
    const half = brush.measureText(post.id).width / 2 + 4;
    const isInside = x - half >= frame.left && x + half <= frame.left + frame.width;
    if (post.role === "line" || !isInside || x - half < free) return;
    brush.fillText(post.id, x, frame.top - 6);
    free = x + half;
  });
  const place = marked.hovered >= 0 ? marked.hovered : marked.selected;
  const post = line.posts[place];
  if (post) saidOf(brush, post, topOf(post, place, marked), scale, frame, inks, system);
}

function saidOf(
  brush: Brush,
  post: SectionPost,
  top_m: number,
  scale: SectionScale,
  frame: Frame,
  inks: Inks,
  system: System,
): void {
  const text = `${post.id}  ${showLong(post.station_m, system)}  ${showSmall(top_m - post.ground_m, system)}`;
  const width = brush.measureText(text).width + 14;
  const left = Math.min(
    Math.max(scale.across(post.station_m) - width / 2, frame.left),
    frame.left + frame.width - width,
  );
  const y = Math.max(frame.top + 2, scale.up(top_m) - 30);
  brush.fillStyle = inks.paper;
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 1;
  brush.beginPath();
  brush.rect(left, y, width, 20);
  brush.fill();
  brush.stroke();
  brush.fillStyle = inks.ink;
  brush.textAlign = "left";
  brush.textBaseline = "middle";
  brush.fillText(text, left + 7, y + 10.5);
}
