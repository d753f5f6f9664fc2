/** What plan and section keep from one answer to the next, and that they draw anew what has changed. */

import type Feature from "ol/Feature.js";
import { expect, test } from "vitest";
import { FenceSource } from "../src/plan/fence_source.ts";
import { FenceMarks } from "../src/plan/marks.ts";
import type { SectionLine } from "../src/section/model.ts";
import { planOf, sectionOf } from "../src/state/drawn.ts";
import { changed, type TableChange, type Tables } from "../src/state/tables.ts";

const BANDS = { lowest_top_m: 1.1, highest_top_m: 1.5 };

function whole(columns: Record<string, unknown[]>): TableChange {
  const rows = Object.values(columns)[0]?.length ?? 0;
  return {
    rows,
    columns: Object.fromEntries(
      Object.entries(columns).map(([key, values]) => [key, { start: 0, remove: 0, values }]),
    ),
  };
}

/** A straight line of posts every two metres. */
function fence(posts: number): Tables {
  const places = Array.from({ length: posts }, (_, place) => place);
  const spans = places.slice(1);
  return changed(
    {},
    {
      drawn: whole({
        name: ["line 1"],
        closed: [false],
        points_m: [
          [
            [0, 0],
            [2 * (posts - 1), 0],
          ],
        ],
      }),
      lines: whole({ name: ["line 1"], length_m: [2 * (posts - 1)] }),
      posts: whole({
        id: places.map((place) => `P${place + 1}`),
        line: places.map(() => "line 1"),
        role: places.map((place) => (place % (posts - 1) ? "line" : "end")),
        x_m: places.map((place) => 2 * place),
        y_m: places.map(() => 0),
        station_m: places.map((place) => 2 * place),
        ground_m: places.map((place) => 10 + 0.1 * place),
        above_ground_m: places.map(() => 1.3),
      }),
      spans: whole({
        line: spans.map(() => "line 1"),
        kind: spans.map(() => "fence"),
        from_post: spans.map((place) => `P${place}`),
        to_post: spans.map((place) => `P${place + 1}`),
        from_station_m: spans.map((place) => 2 * (place - 1)),
        to_station_m: spans.map((place) => 2 * place),
        ground_samples: spans.map(() => 1),
      }),
      ground: whole({
        along_m: spans.map(() => 1),
        ground_m: spans.map((place) => 10 + 0.1 * place - 0.05),
      }),
    },
  );
}

const EVERYWHERE = [-1e9, -1e9, 1e9, 1e9];

const stationsOf = (line: SectionLine | null): number[] => Array.from(line?.ground.station_m ?? []);

/** The marks that a source would have drawn. */
const marksOf = (source: FenceSource): Feature[] => source.getFeaturesInExtent(EVERYWHERE);

const set = (tables: Tables, column: string, row: number, value: unknown) =>
  changed(tables, {
    posts: {
      rows: tables.posts?.rows ?? 0,
      columns: { [column]: { start: row, remove: 1, values: [value] } },
    },
  });

test("a top that moves leaves the plan alone and keeps the section's ground", () => {
  const tables = fence(6);
  const plan = planOf(tables, null);
  const line = sectionOf(tables, "line 1", BANDS);
  const next = set(tables, "above_ground_m", 2, 1.4);
  const again = planOf(next, { tables, plan });
  expect(again.posts).toBe(plan.posts);
  expect(again.braces).toBe(plan.braces);
  if (!line) throw new Error("no section");
  const moved = sectionOf(next, "line 1", BANDS, { tables, bands: BANDS, line });
  expect(moved).not.toBe(line);
  expect(moved?.ground).toBe(line.ground);
  expect(moved?.posts[2]?.top_m).toBeCloseTo(10.2 + 1.4, 12);
});

test.each([
  ["x_m", [7, 7.5]],
  ["y_m", [7, 0.5]],
  ["station_m", [7, 15]],
  ["ground_m", [7, 9]],
  ["above_ground_m", [7, 1.4]],
  ["role", [7, "strain"]],
  ["id", [7, "P77"]],
  ["utilisation", [7, 1.2]],
  ["rail_marks_m", [7, [0.4, 0.8]]],
  ["embedment_m", [7, 0.9]],
  ["cut_m", [7, 0.1]],
  ["uplift_n", [7, 40]],
  ["is_pinned", [7, true]],
] as const)(
  "of posts of which one has another %s the rest are not made anew, and all is as made at once",
  (key, [row, value]) => {
    const first = fence(20);
    const had = first.posts?.columns[key] ?? Array.from({ length: 20 }, () => null);
    const filled = changed(first, {
      posts: { rows: 20, columns: { [key]: { start: 0, remove: 20, values: [...had] } } },
    });
    const splice = { start: 0, remove: 0, values: [], rows: [row], changed: [value] };
    const spans =
      key === "id"
        ? {
            spans: {
              rows: 19,
              columns: {
                from_post: { start: 7, remove: 1, values: ["P77"] },
                to_post: { start: 6, remove: 1, values: ["P77"] },
              },
            },
          }
        : {};
    const now = changed(filled, { posts: { rows: 20, columns: { [key]: splice } }, ...spans });
    const [plan, section] = [planOf(filled, null), sectionOf(filled, "line 1", BANDS)];
    if (!section) throw new Error("no section");
    const after = planOf(now, { tables: filled, plan });
    const along = sectionOf(now, "line 1", BANDS, { tables: filled, bands: BANDS, line: section });
    expect(after).toEqual(planOf(now, null));
    expect(along).toEqual(sectionOf(now, "line 1", BANDS));
    const others = (posts: readonly object[]) => posts.filter((_, place) => place !== 7);
    expect(others(after.posts).every((post) => plan.posts.includes(post as never))).toBe(true);
    expect(others(along?.posts ?? []).every((post) => section.posts.includes(post as never))).toBe(true);
    const isDrawn = after.posts[7] !== plan.posts[7] || along?.posts[7] !== section.posts[7];
    expect(isDrawn).toBe(true);
  },
);

test("the ground of a section runs through its posts and the samples between, along its own spans", () => {
  const tables = fence(3);
  expect([...stationsOf(sectionOf(tables, "line 1", BANDS))]).toEqual([0, 1, 2, 3, 4]);
  const other = changed(tables, {
    spans: { rows: 2, columns: { line: { start: 0, remove: 1, values: ["line 0"] } } },
  });
  const line = sectionOf(other, "line 1", BANDS);
  expect([...stationsOf(line)]).toEqual([0, 1, 2]);
  expect(line?.ground.elevation_m[1]).toBeCloseTo(10.15, 12);
});

test("a section of which nothing has changed is the one before; another band is another section", () => {
  const tables = fence(6);
  const line = sectionOf(tables, "line 1", BANDS);
  if (!line) throw new Error("no section");
  const before = { tables, bands: BANDS, line };
  const drawn = changed(tables, { drawn: whole({ name: ["line 1"], closed: [true], points_m: [[]] }) });
  expect(sectionOf(drawn, "line 1", { ...BANDS }, before)).toBe(line);
  const wider = sectionOf(drawn, "line 1", { ...BANDS, highest_top_m: 1.7 }, before);
  expect(wider?.posts[0]?.high_m).toBeCloseTo(11.7, 12);
  const lower = sectionOf(set(tables, "ground_m", 1, 9), "line 1", BANDS, before);
  expect(lower?.ground.elevation_m[[...stationsOf(lower)].indexOf(2)]).toBe(9);
});

test("a post that moves gets another mark, the rest keep theirs, also where their names have changed", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  const tables = fence(8);
  marks.show(planOf(tables, null));
  const before = new Map(marksOf(source).map((mark) => [mark.get("id"), mark]));
  expect(before.size).toBe(8);
  marks.show(planOf(set(tables, "x_m", 3, 6.5), null));
  const after = new Map(marksOf(source).map((mark) => [mark.get("id"), mark]));
  expect(after.get("P4")).not.toBe(before.get("P4"));
  expect([...after.keys()].filter((id) => after.get(id) === before.get(id))).toHaveLength(7);
  const ids = Array.from({ length: 8 }, (_, place) => `P${place + 11}`);
  marks.show(
    planOf(
      changed(tables, { posts: { rows: 8, columns: { id: { start: 0, remove: 8, values: ids } } } }),
      null,
    ),
  );
  expect(
    marksOf(source)
      .map((mark) => mark.get("id"))
      .sort(),
  ).toEqual(ids.sort());
  expect(marksOf(source)).toContain(before.get("P8"));
});

test("a post that is off by a hair keeps its mark, however often, until it is off by more than can be seen", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  const tables = fence(8);
  const shown = (x_m: number) => {
    marks.show(planOf(set(tables, "x_m", 3, x_m), null));
    return marksOf(source).find((mark) => mark.get("id") === "P4");
  };
  const first = shown(6);
  expect(shown(6.0004)).toBe(first);
  expect(shown(6.0008)).toBe(first);
  expect(shown(6.0012)).not.toBe(first);
});

test("posts in one place each have a mark, and another fence takes all the marks of the one before", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  const tables = fence(4);
  marks.show(planOf(set(tables, "x_m", 2, 2), null));
  expect(marksOf(source)).toHaveLength(4);
  const moved = changed(tables, {
    posts: { rows: 4, columns: { y_m: { start: 0, remove: 4, values: [5, 5, 5, 5] } } },
  });
  marks.show(planOf(moved, null));
  const ys = marksOf(source).map((mark) => mark.getGeometry()?.getExtent()[1]);
  expect(ys).toEqual([5, 5, 5, 5]);
});

test("from far the line posts are left out, but for those that are pointed at", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  marks.show(planOf(fence(5), null));
  source.leavesOut = () => true;
  const names = () => marksOf(source).map((mark) => mark.get("id"));
  expect(names()).toEqual(["P1", "P5"]);
  marks.point(new Set(["P1", "P3"]));
  expect(names()).toEqual(["P1", "P5", "P3"]);
});

test("a post more in the middle takes no mark from the others, and one that is overloaded says so", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  const tables = fence(6);
  marks.show(planOf(tables, null));
  const before = new Set(marksOf(source));
  const more = changed(tables, {
    posts: {
      rows: 7,
      columns: {
        id: { start: 3, remove: 3, values: ["P4", "P5", "P6", "P7"] },
        line: { start: 3, remove: 0, values: ["line 1"] },
        role: { start: 3, remove: 0, values: ["line"] },
        x_m: { start: 3, remove: 0, values: [5] },
        y_m: { start: 3, remove: 0, values: [0] },
        station_m: { start: 3, remove: 0, values: [5] },
      },
    },
  });
  marks.show(planOf(more, null));
  const added = marksOf(source).filter((mark) => !before.has(mark));
  expect(added.map((mark) => mark.get("id"))).toEqual(["P4"]);
  expect(marksOf(source)).toHaveLength(7);
  const used = changed(more, {
    posts: { rows: 7, columns: { utilisation: { start: 0, remove: 0, values: [0, 0, 1.2, 0, 0, 0, 0] } } },
  });
  marks.show(planOf(used, null));
  const overloaded = marksOf(source).filter((mark) => mark.get("overloaded"));
  expect(overloaded.map((mark) => mark.get("id"))).toEqual(["P3"]);
  expect(marksOf(source)).toHaveLength(7);
});

test("the map is told of what looks otherwise, and of nothing else", () => {
  const source = new FenceSource();
  const marks = new FenceMarks(source);
  const tables = fence(6);
  marks.show(planOf(tables, null));
  let told = source.getRevision();
  const tellsAfter = (next: Tables) => {
    marks.show(planOf(next, null));
    const before = told;
    told = source.getRevision();
    return told > before;
  };
  expect(tellsAfter({ ...tables })).toBe(false);
  const shares = (...values: number[]) =>
    changed(tables, { posts: { rows: 6, columns: { utilisation: { start: 0, remove: 0, values } } } });
  expect(tellsAfter(shares(0.1, 0.2, 0.3, 0.4, 0.5, 0.6))).toBe(false);
  expect(tellsAfter(shares(0.1, 0.2, 1.3, 0.4, 0.5, 0.6))).toBe(true);
  expect(tellsAfter(set(tables, "id", 2, "Q3"))).toBe(true);
  expect(tellsAfter(set(tables, "x_m", 2, 4.5))).toBe(true);
});
