/** What hands do on the long section: a top dragged in its band, a foot along the line, a pan, a pinch of two fingers. */

import { heldToBand, nearestPost, type SectionLine, type SectionPost } from "./model.ts";
import type { Frame, SectionScale } from "./scale.ts";
import { placedAt, type Shown, wheelFactor, zoomedAbout } from "./window.ts";

/** How near a post a hand must be, and how far it must move before it drags. [pixels] */
const REACH_PX = { mouse: 22, touch: 26 };
const SLOP_PX = { mouse: 3, touch: 8 };
/** A move in the ground shorter than this moves no post. [m] */
const LEAST_SHIFT_M = 0.005;
const LEAST_TOP_M = 5e-4;

/** Where a finger or a mouse is on the board, and which. [pixels] */
export interface Touch {
  id: number;
  x: number;
  y: number;
  isFinger: boolean;
}

/** The board that the hands work on, and what they ask of it. */
export interface Board {
  readonly line: SectionLine | null;
  readonly scale: SectionScale | null;
  readonly frame: Frame;
  readonly shown: Shown;
  readonly locked: boolean;
  show(shown: Shown): void;
  tell(name: string, detail: unknown): void;
  redraw(): void;
}

/** A post held by its top or by its foot, or the board itself held at a station. */
interface Grip {
  by: "top" | "foot" | "board";
  post: SectionPost | null;
  place: number;
  from: Touch;
  station_m: number;
  isMoved: boolean;
}

interface Pinch {
  station_m: number;
  wide_m: number;
  apart_px: number;
}

export class SectionHand {
  /** A top under the hand, or let go and not yet answered. */
  dragged: { place: number; top_m: number } | null = null;
  /** A foot under the hand: the post's place in the line, and the station where it would stand. */
  shifted: { place: number; station_m: number } | null = null;
  private readonly touches = new Map<number, Touch>();
  private grip: Grip | null = null;
  private pinch: Pinch | null = null;

  constructor(private readonly board: Board) {}

  /** A hand holds something: answers that come meanwhile do not take it out of the hand. */
  get isHolding(): boolean {
    return this.grip !== null && this.grip.by !== "board";
  }

  /** What a drag from here would move. */
  gripAt(touch: Touch): Grip["by"] {
    return this.gripOf(touch)?.by ?? "board";
  }

  pressed(touch: Touch): void {
    this.touches.set(touch.id, touch);
    if (this.touches.size === 2) this.beginPinch();
    else if (this.touches.size === 1) this.grip = this.gripOf(touch);
  }

  moved(touch: Touch): void {
    if (!this.touches.has(touch.id)) return;
    this.touches.set(touch.id, touch);
    if (this.pinch) this.pinched(this.pinch);
    else if (this.grip) this.drag(this.grip, touch);
  }

  released(touch: Touch): void {
    const { grip } = this;
    if (!this.touches.delete(touch.id)) return;
    if (this.pinch) {
      // the finger that stays goes on panning
      this.pinch = null;
      const [rest] = this.touches.values();
      this.grip = rest ? this.boardGrip(rest) : null;
      if (this.grip) this.grip.isMoved = true;
      return;
    }
    this.grip = null;
    if (grip?.isMoved) this.letGo(grip);
    else if (grip) this.choose(touch);
    this.board.redraw();
  }

  /** Let go of everything and keep nothing of it. */
  cancelled(): void {
    const wasTrying = this.isHolding && this.grip?.isMoved;
    this.touches.clear();
    this.grip = null;
    this.pinch = null;
    this.dragged = null;
    this.shifted = null;
    if (wasTrying) this.board.tell("try-ended", null);
    this.board.redraw();
  }

  /** An answer shows what was let go: nothing hangs where the hand left it. Gives whether something hung there. */
  settled(): boolean {
    if (this.isHolding || !this.dragged) return false;
    this.dragged = null;
    return true;
  }

  wheeled(event: { x: number; across_px: number; turned_px: number; isPinch: boolean }): void {
    const { scale, shown, line } = this.board;
    if (!scale || !line) return;
    if (Math.abs(event.across_px) > Math.abs(event.turned_px)) {
      const by_m = event.across_px / scale.across_per_m;
      this.board.show({ low: shown.low + by_m, high: shown.high + by_m });
      return;
    }
    const factor = wheelFactor(event.turned_px, event.isPinch);
    this.board.show(zoomedAbout(shown, scale.stationAt(event.x), factor, line.length_m));
  }

  /** The post nearest along the line, within reach; -1 where there is none. */
  placeUnder(touch: Touch): number {
    const { scale, line } = this.board;
    if (!scale || !line) return -1;
    const reach_px = touch.isFinger ? REACH_PX.touch : REACH_PX.mouse;
    return nearestPost(line, scale.stationAt(touch.x), reach_px / scale.across_per_m);
  }

  private boardGrip(from: Touch): Grip {
    const station_m = this.board.scale?.stationAt(from.x) ?? 0;
    return { by: "board", post: null, place: -1, from, station_m, isMoved: false };
  }

  private gripOf(from: Touch): Grip | null {
    const { scale, line, locked } = this.board;
    if (!scale || !line) return null;
    const place = this.placeUnder(from);
    const post = line.posts[place];
    if (!post || locked) return this.boardGrip(from);
    const reach_px = from.isFinger ? REACH_PX.touch : REACH_PX.mouse;
    const { station_m } = post;
    const held = { post, place, from, station_m, isMoved: false };
    if (Math.abs(from.y - scale.up(post.top_m)) < reach_px) return { by: "top", ...held };
    const foot = scale.up(post.ground_m - post.embedment_m) + reach_px;
    if (from.y > scale.up(post.ground_m) && from.y < foot) return { by: "foot", ...held };
    return this.boardGrip(from);
  }

  private beginPinch(): void {
    const { grip } = this;
    if (grip && grip.by !== "board" && grip.isMoved) this.board.tell("try-ended", null);
    this.grip = null;
    this.dragged = null;
    this.shifted = null;
    const { scale, shown } = this.board;
    const between = this.between();
    if (!scale || !between) return;
    const station_m = scale.stationAt(between.x);
    this.pinch = { station_m, wide_m: shown.high - shown.low, apart_px: between.apart_px };
  }

  private between(): { x: number; apart_px: number } | null {
    const [a, b] = this.touches.values();
    if (!a || !b) return null;
    return { x: (a.x + b.x) / 2, apart_px: Math.max(16, Math.hypot(a.x - b.x, a.y - b.y)) };
  }

  private pinched(pinch: Pinch): void {
    const { frame, line } = this.board;
    const between = this.between();
    if (!line || !between) return;
    const wide_m = (pinch.wide_m * pinch.apart_px) / between.apart_px;
    const share = (between.x - frame.left) / frame.width;
    this.board.show(placedAt(pinch.station_m, share, wide_m, line.length_m));
  }

  private drag(grip: Grip, touch: Touch): void {
    const { scale, line, shown, frame } = this.board;
    if (!scale || !line) return;
    const slop_px = touch.isFinger ? SLOP_PX.touch : SLOP_PX.mouse;
    const isBegun = Math.hypot(touch.x - grip.from.x, touch.y - grip.from.y) > slop_px;
    if (!grip.isMoved && !isBegun) return;
    if (!grip.isMoved && grip.post) this.board.tell("post-chosen", grip.post.id);
    grip.isMoved = true;
    const { post, place } = grip;
    if (grip.by === "top" && post) {
      // the top keeps its distance from the finger, so that it does not jump when it is taken
      const top_m = heldToBand(post, post.top_m + (grip.from.y - touch.y) / scale.up_per_m);
      this.dragged = { place, top_m };
      this.board.tell("top-dragged", { post: post.id, top_m, height_m: top_m - post.ground_m });
    } else if (grip.by === "foot" && post) {
      const to_m = post.station_m + (touch.x - grip.from.x) / scale.across_per_m;
      this.shifted = { place, station_m: Math.min(Math.max(0, to_m), line.length_m) };
    } else {
      const share = (touch.x - frame.left) / frame.width;
      this.board.show(placedAt(grip.station_m, share, shown.high - shown.low, line.length_m));
    }
    this.board.redraw();
  }

  private letGo({ post }: Grip): void {
    const { dragged, shifted } = this;
    this.shifted = null;
    const by_m = shifted && post ? shifted.station_m - post.station_m : 0;
    if (post && Math.abs(by_m) > LEAST_SHIFT_M) this.board.tell("post-shifted", { post: post.id, by_m });
    if (!dragged || !post) return;
    if (Math.abs(dragged.top_m - post.top_m) > LEAST_TOP_M) {
      const height_m = dragged.top_m - post.ground_m;
      this.board.tell("top-set", { post: post.id, top_m: dragged.top_m, height_m });
    } else {
      this.dragged = null;
      this.board.tell("try-ended", null);
    }
  }

  private choose(touch: Touch): void {
    const post = this.board.line?.posts[this.placeUnder(touch)];
    if (post) this.board.tell("post-chosen", post.id);
  }
}
