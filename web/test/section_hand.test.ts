/** Hands on the long section: zoom and pan keep the place under the fingers, a drag asks for what it shows. */

import { describe, expect, test } from "vitest";
import { type Board, SectionHand, type Touch } from "../src/section/hand.ts";
import type { SectionLine, SectionPost } from "../src/section/model.ts";
import { sectionScale } from "../src/section/scale.ts";
import { heldInside, placedAt, type Shown, wheelFactor, zoomedAbout } from "../src/section/window.ts";

const FRAME = { left: 50, top: 20, width: 1000, height: 200 };
const post = (place: number): SectionPost => ({
  index: place,
  id: `P${place + 1}`,
  role: "line",
  station_m: 10 * place,
  ground_m: 100,
  top_m: 101.3,
  low_m: 101.2,
  high_m: 101.5,
  rail_marks_m: [],
  embedment_m: 0.8,
  cut_m: 0.2,
  uplift_n: 0,
  isPinned: false,
});
const LINE: SectionLine = {
  name: "line 1",
  start_m: 0,
  length_m: 100,
  posts: Array.from({ length: 11 }, (_, place) => post(place)),
  ground: { station_m: [0, 100], elevation_m: [100, 100] },
  openings: new Set(),
};

/** A board without a page: it notes what the hands tell it, and shows what they ask. */
function board(locked = false) {
  const told: [string, unknown][] = [];
  const made = {
    line: LINE,
    frame: FRAME,
    shown: { low: 0, high: 100 } as Shown,
    locked,
    get scale() {
      return sectionScale(made.shown, { low: 99, high: 102 }, FRAME);
    },
    show: (shown: Shown) => {
      made.shown = heldInside(shown, LINE.length_m);
    },
    tell: (name: string, detail: unknown) => told.push([name, detail]),
    redraw: () => undefined,
  };
  return { made, told, hand: new SectionHand(made satisfies Board) };
}

const finger = (id: number, x: number, y: number): Touch => ({ id, x, y, isFinger: true });
const mouse = (x: number, y: number): Touch => ({ id: 1, x, y, isFinger: false });

describe("the part of a line that is shown", () => {
  test("keeps the place that it is zoomed about, and stays in the line", () => {
    expect(zoomedAbout({ low: 0, high: 100 }, 25, 0.5, 100)).toEqual({ low: 12.5, high: 62.5 });
    expect(zoomedAbout({ low: 10, high: 20 }, 12, 100, 100)).toEqual({ low: 0, high: 100 });
    const least = zoomedAbout({ low: 10, high: 16 }, 12, 0.1, 100);
    expect(least.high - least.low).toBe(5);
    expect(zoomedAbout(least, 12, 0.5, 100)).toEqual(least);
    expect(heldInside({ low: 90, high: 110 }, 100)).toEqual({ low: 80, high: 100 });
    expect(heldInside({ low: 0, high: 9 }, 3)).toEqual({ low: 0, high: 3 });
    expect(placedAt(50, 0.25, 40, 100)).toEqual({ low: 40, high: 80 });
  });

  test("a wheel turned there and back shows as much as before, and one turn is never a leap", () => {
    expect(wheelFactor(120, false) * wheelFactor(-120, false)).toBeCloseTo(1, 12);
    expect(wheelFactor(1e6, true)).toBeCloseTo(Math.E, 12);
  });
});

describe("hands on the section", () => {
  test("two fingers zoom about the place between them, and one that stays pans on", () => {
    const { made, told, hand } = board();
    hand.pressed(finger(1, 250, 30));
    hand.pressed(finger(2, 450, 30));
    hand.moved(finger(1, 150, 30));
    hand.moved(finger(2, 550, 30));
    expect(made.shown.high - made.shown.low).toBeCloseTo(50, 9);
    expect(made.scale.stationAt(350)).toBeCloseTo(30, 9);
    hand.released(finger(1, 150, 30));
    const before = made.shown.low;
    hand.moved(finger(2, 450, 30));
    expect(made.shown.low - before).toBeCloseTo(5, 9);
    hand.released(finger(2, 450, 30));
    expect(told).toEqual([]);
  });

  test("a top is dragged in its band and set where it is let go; it does not jump to the finger", () => {
    const { made, told, hand } = board();
    const y = made.scale.up(101.3);
    const per_m = made.scale.up_per_m;
    hand.pressed(finger(1, 350, y + 12));
    hand.moved(finger(1, 350, y + 12 - 0.15 * per_m));
    expect(told[0]).toEqual(["post-chosen", "P4"]);
    expect(hand.dragged?.top_m).toBeCloseTo(101.45, 9);
    hand.moved(finger(1, 350, y + 12 - 2 * per_m));
    hand.released(finger(1, 350, y + 12 - 2 * per_m));
    const [name, set] = told.at(-1) as [string, { post: string; height_m: number }];
    expect(name).toBe("top-set");
    expect(set.post).toBe("P4");
    expect(set.height_m).toBeCloseTo(1.5, 9);
    hand.settled();
    expect(hand.dragged).toBeNull();
  });

  test("a second finger or a call away lets a held top go and changes nothing", () => {
    for (const end of ["pinch", "cancel"]) {
      const { made, told, hand } = board();
      const y = made.scale.up(101.3);
      hand.pressed(finger(1, 350, y));
      hand.moved(finger(1, 350, y - 30));
      if (end === "pinch") hand.pressed(finger(2, 500, y));
      else hand.cancelled();
      expect(hand.dragged).toBeNull();
      hand.released(finger(1, 350, y - 30));
      hand.released(finger(2, 500, y));
      expect(told.map(([name]) => name)).toEqual(["post-chosen", "top-dragged", "try-ended"]);
    }
  });

  test("a foot is moved along the line, as far as it was dragged", () => {
    const { made, told, hand } = board();
    const y = made.scale.up(99.7);
    hand.pressed(mouse(350, y));
    hand.moved(mouse(365, y));
    expect(hand.shifted?.station_m).toBeCloseTo(31.5, 9);
    hand.released(mouse(365, y));
    const [name, shifted] = told.at(-1) as [string, { post: string; by_m: number }];
    expect([name, shifted.post]).toEqual(["post-shifted", "P4"]);
    expect(shifted.by_m).toBeCloseTo(1.5, 9);
  });

  test("a tap chooses the nearest post, a drag beside the posts pans, and a locked board moves no post", () => {
    const { made, told, hand } = board();
    hand.pressed(finger(1, 360, 30));
    hand.released(finger(1, 362, 31));
    expect(told).toEqual([["post-chosen", "P4"]]);
    const still = board(true);
    still.made.shown = { low: 20, high: 60 };
    const y = still.made.scale.up(101.3);
    still.hand.pressed(mouse(300, y));
    still.hand.moved(mouse(200, y));
    still.hand.released(mouse(200, y));
    expect(still.told).toEqual([]);
    expect(still.made.shown.low).toBeCloseTo(24, 9);
    expect(made.shown).toEqual({ low: 0, high: 100 });
  });

  test("a wheel turned sideways pans, upright it zooms about the hand", () => {
    const { made, hand } = board();
    made.shown = { low: 20, high: 60 };
    hand.wheeled({ x: 100, across_px: 100, turned_px: 3, isPinch: false });
    expect(made.shown.low).toBeCloseTo(24, 9);
    hand.wheeled({ x: 550, across_px: 0, turned_px: -30, isPinch: true });
    expect(made.scale.stationAt(550)).toBeCloseTo(44, 9);
    expect(made.shown.high - made.shown.low).toBeLessThan(40);
  });
});
