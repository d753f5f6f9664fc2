/** The long section draws what its frame shows, and of posts that stand close no marks that would run together. */

import { expect, test } from "vitest";
import type { Inks } from "../src/section/board.ts";
import { drawSection } from "../src/section/drawing.ts";
import { drawGrid } from "../src/section/grid.ts";
import { dropsOf } from "../src/section/lines.ts";
import { elevations, groundAt, placeFrom, type SectionLine } from "../src/section/model.ts";
import { sectionScale } from "../src/section/scale.ts";

const INKS = Object.fromEntries(
  ["ink", "soft", "line", "faint", "paper", "accent", "ground", "ground_ink", "band", "rail"].map((name) => [
    name,
    name,
  ]),
) as unknown as Inks;
const FRAME = { left: 50, top: 20, width: 800, height: 200 };
const UNMARKED = { hovered: -1, selected: -1, dragged: null, shifted: null };

/** A brush that notes how often each of its ways is used, and where lines go. */
function brush() {
  const calls: Record<string, number> = {};
  const xs: number[] = [];
  const texts: { words: string; x: number; y: number }[] = [];
  const noted = new Proxy({} as Record<string, unknown>, {
    get: (kept, name: string) =>
      name in kept
        ? kept[name]
        : (...given: number[]) => {
            calls[name] = (calls[name] ?? 0) + 1;
            if (name === "lineTo") xs.push(given[0] ?? 0);
            if (name === "fillText")
              texts.push({ words: String(given[0]), x: given[1] ?? 0, y: given[2] ?? 0 });
            return { width: 20 };
          },
    set: (kept, name: string, value) => {
      kept[name] = value;
      return true;
    },
  });
  return { brush: noted as unknown as CanvasRenderingContext2D, calls, xs, texts };
}

function line(posts: number): SectionLine {
  const places = Array.from({ length: posts }, (_, place) => place);
  return {
    name: "line 1",
    start_m: 0,
    length_m: 2 * (posts - 1),
    posts: places.map((place) => ({
      index: place,
      id: `P${place + 1}`,
      role: place % 50 ? "line" : "strain",
      station_m: 2 * place,
      ground_m: 10,
      top_m: 11.3,
      low_m: 11.1,
      high_m: 11.5,
      rail_marks_m: [0.4, 0.8],
      embedment_m: 0.7,
      cut_m: null,
      uplift_n: 0,
      isPinned: false,
    })),
    ground: { station_m: places.map((place) => 2 * place), elevation_m: places.map(() => 10) },
    openings: new Set([10]),
  };
}

function drawn(posts: number, low: number, high: number) {
  const noted = brush();
  const scale = sectionScale({ low, high }, { low: 9, high: 12 }, FRAME);
  drawSection({
    brush: noted.brush,
    line: line(posts),
    scale,
    frame: FRAME,
    inks: INKS,
    marked: UNMARKED,
    system: "metric",
  });
  return noted;
}

test("what lies outside the frame is not drawn, but lines run out of it", () => {
  const near = drawn(2001, 1000, 1040);
  expect(Math.min(...near.xs.filter((x) => x < FRAME.left - 1))).toBeGreaterThan(FRAME.left - 60);
  expect(Math.max(...near.xs)).toBeLessThan(FRAME.left + FRAME.width + 60);
  expect(near.calls.lineTo).toBeLessThan(400);
});

test("stations under a closed line that begins again stand clear of one another", () => {
  const noted = brush();
  const frame = { left: 50, top: 20, width: 300, height: 200 };
  const round = { ...line(308), start_m: 300, length_m: 614 }; // seen whole: 400, 600, and 0 just behind
  const scale = sectionScale({ low: 0, high: 614 }, { low: 9, high: 12 }, frame);
  drawGrid({
    brush: noted.brush,
    line: round,
    scale,
    frame,
    inks: INKS,
    marked: UNMARKED,
    system: "metric",
  });
  const under = noted.texts.filter(({ y }) => y === frame.top + frame.height + 4);
  expect(under.map(({ words }) => words)).toEqual(["400", "0", "200"]);
});

test("posts that would run together are drawn as one band and by their fixed posts", () => {
  const [far, near] = [drawn(2001, 0, 4000), drawn(2001, 0, 100)];
  expect(far.calls.rect).toBe(1); // the clip
  expect(near.calls.rect).toBe(1 + 51); // and a band for each post
  expect(far.calls.measureText ?? 0).toBeLessThanOrEqual(41);
});

test("heights hold all from the feet in the ground to the tops, between posts too", () => {
  const level = line(51);
  expect(elevations(level, 0, 100)).toEqual({ low: 10 - 0.7, high: 11.5 });
  const { station_m } = level.ground;
  const slope = { ...level, ground: { station_m, elevation_m: Array.from(station_m, (at) => 10 + at / 4) } };
  expect(groundAt(slope, 41)).toBeCloseTo(20.25);
  const between = elevations({ ...slope, posts: [] }, 40.5, 41.5);
  expect(between.low).toBeCloseTo(20.125);
  expect(between.high).toBeCloseTo(20.375);
});

test.each([
  [50, 1.5, 200], // a flat site, seen whole
  [5, 2.5, 200], // zoomed in as far as it goes
  [5000, 60, 560],
])(
  "%f m of line that rise %f m are all in a frame of %f pixels, and as large as it allows",
  (long, rise, tall) => {
    const frame = { left: 50, top: 20, width: 800, height: tall };
    const scale = sectionScale({ low: 0, high: long }, { low: 100, high: 100 + rise }, frame);
    expect(scale.up(100 + rise)).toBeGreaterThanOrEqual(frame.top - 1e-9);
    expect(scale.up(100)).toBeLessThanOrEqual(frame.top + tall + 1e-9);
    expect(scale.up(100) - scale.up(100 + rise)).toBeGreaterThan(0.75 * tall);
    expect(scale.exaggeration).toBeCloseTo(scale.up_per_m / (800 / long));
  },
);

test.each([
  [-1, 0],
  [0, 0],
  [1.5, 2],
  [2, 2],
  [9, 4],
])("the first place at or past %f", (station, place) => {
  expect(placeFrom([0, 1, 2, 3], station, (each) => each)).toBe(place);
});

test("rails lie as far below the top of a post that is cut to a string as of any other", () => {
  const whole = line(4);
  const bare = (until: number): SectionLine => ({
    ...whole,
    posts: whole.posts.map((post) => (post.index < until ? { ...post, rail_marks_m: [] } : post)),
  });
  for (const each of [whole, bare(2)])
    expect(dropsOf(each).map((drop) => drop.toFixed(9))).toEqual(["0.900000000", "0.500000000"]);
  expect(dropsOf(bare(4))).toEqual([]);
});
