import { expect, test, vi } from "vitest";

const drawn = vi.hoisted(() => [] as ((layer: unknown) => void)[]);
vi.mock("../src/plan/terrain.ts", () => ({
  contourMarks: () => [{}],
  shadingLayer: () => new Promise((done) => drawn.push(done)),
}));
vi.mock("../src/plan/backdrops.ts", () => ({ Backdrops: class {} }));
vi.mock("../src/plan/map.ts", () => ({ LOCAL: null, replace: () => {} }));

const { UnderPlan } = await import("../src/plan/under_plan.ts");

const GRID = { x_m: 0, y_m: 0, step_m: 1, rows: 1, columns: 1, elevation_m: [0] };

function shading(name: string) {
  return { name, setVisible: () => {}, setOpacity: () => {} };
}

test("of terrains asked for one upon the other only the newest is laid, whichever is drawn first", async () => {
  const laid = new Set<unknown>();
  const map = {
    addLayer: (layer: unknown) => laid.add(layer),
    removeLayer: (layer: unknown) => laid.delete(layer),
  };
  const sources = { heights: { getFeatures: () => [{}] } };
  const contoured = shading("contours");
  const under = new UnderPlan({ map, contoured } as never, sources as never, () => true);

  const first = under.showTerrain(GRID, "us");
  drawn[0]?.(shading("first"));
  await first;
  const [second, third, fourth] = [1, 2, 3].map(() => under.showTerrain(GRID, "us"));
  const newest = shading("fourth");
  drawn[3]?.(newest);
  await fourth;
  drawn[1]?.(shading("second"));
  drawn[2]?.(shading("third"));
  await Promise.all([second, third]);
  expect([...laid]).toEqual([newest]);

  await under.showTerrain(null, "us");
  expect([...laid]).toEqual([]);
});
