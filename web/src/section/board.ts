/** What the drawing of a long section shares: its inks, what is marked in it, and which of its posts are in sight. */

import type { System } from "../units/show.ts";
import { placeFrom, type SectionLine, type SectionPost } from "./model.ts";
import type { Frame, SectionScale } from "./scale.ts";

export type Brush = CanvasRenderingContext2D;

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

/** The inks that the page has now. */
export function inksOf(element: Element): Inks {
  const style = getComputedStyle(element);
  const ink = (name: string) => style.getPropertyValue(name).trim() || "#000";
  return {
    ink: ink("--ink"),
    soft: ink("--soft"),
    line: ink("--line"),
    faint: ink("--faint"),
    paper: ink("--paper"),
    accent: ink("--accent"),
    ground: ink("--ground"),
    ground_ink: ink("--ground-ink"),
    band: ink("--band"),
    rail: ink("--rail"),
  };
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

/** What is drawn, and with what: a line, at a scale in a frame. */
export interface Board {
  brush: Brush;
  line: SectionLine;
  scale: SectionScale;
  frame: Frame;
  inks: Inks;
  marked: Marked;
  system: System;
}

/** Pixels between posts under which bands, line posts and holes are not drawn one by one. */
const DENSE_PX = 4;

/** Posts that a frame shows, with one beyond each edge so that lines run out of it: first place and the one past the last. */
export interface InSight {
  first: number;
  end: number;
  /** The posts stand so close that marks of their own would run into one stroke. */
  isDense: boolean;
}

export function inSight({ line, scale, frame }: Board): InSight {
  const stationOf = (post: SectionPost) => post.station_m;
  const first = Math.max(0, placeFrom(line.posts, scale.stationAt(frame.left), stationOf) - 1);
  const past = placeFrom(line.posts, scale.stationAt(frame.left + frame.width), stationOf);
  const end = Math.min(line.posts.length, past + 1);
  return { first, end, isDense: frame.width / Math.max(1, end - first) < DENSE_PX };
}

export function topOf(post: SectionPost, place: number, marked: Marked): number {
  return marked.dragged?.place === place ? marked.dragged.top_m : post.top_m;
}

/** A straight stroke. */
export function rule(brush: Brush, x0: number, y0: number, x1: number, y1: number): void {
  brush.beginPath();
  brush.moveTo(x0, y0);
  brush.lineTo(x1, y1);
  brush.stroke();
}
