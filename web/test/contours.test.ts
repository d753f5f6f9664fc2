import { describe, expect, it } from "vitest";
import { contourStep, contours, type Grid, shading } from "../src/flat/contours.ts";

function grid(height: (x: number, y: number) => number | null, step_m = 1, size = 41): Grid {
  const cells = Array.from({ length: size * size }, (_, at) =>
    height((at % size) * step_m - 20, Math.floor(at / size) * step_m - 20),
  );
  return { x_m: -20, y_m: -20, step_m, columns: size, rows: size, elevation_m: cells };
}

describe("contours", () => {
  it("of a cone are circles of the radius that the level gives", () => {
    for (const contour of contours(
      grid((x, y) => 20 - Math.hypot(x, y)),
      5,
    )) {
      const radius = 20 - contour.level_m;
      for (let i = 0; i < contour.segments.length; i += 2) {
        if (radius < 2 || radius > 19) continue;
        // A straight cell side under a cone: the error is the cone's own bend over one step.
        expect(Math.hypot(contour.segments[i] ?? 0, contour.segments[i + 1] ?? 0)).toBeCloseTo(radius, 0);
      }
    }
  });

  it("of a plane are straight, and exact", () => {
    for (const contour of contours(
      grid((x, y) => 0.5 * x + 0.25 * y),
      2,
    )) {
      for (let i = 0; i < contour.segments.length; i += 2) {
        expect(0.5 * (contour.segments[i] ?? 0) + 0.25 * (contour.segments[i + 1] ?? 0)).toBeCloseTo(
          contour.level_m,
          9,
        );
      }
    }
  });

  it("stop at a hole, and a flat field has none but its own level", () => {
    const holed = contours(
      grid((x, y) => (Math.abs(x) < 3 && Math.abs(y) < 3 ? null : x)),
      1,
    );
    expect(holed.find((contour) => contour.level_m === 0)?.segments.length).toBeGreaterThan(0);
    expect(
      contours(
        grid(() => 7.3),
        1,
      ),
    ).toEqual([]);
  });

  it("have a round step", () => {
    expect(
      contourStep(
        grid((x) => x),
        1,
        14,
      ),
    ).toBe(5);
    expect(
      contourStep(
        grid((x) => x),
        0.3048,
        14,
      ),
    ).toBeCloseTo(10 * 0.3048);
    expect(
      contourStep(
        grid(() => 3),
        1,
        14,
      ),
    ).toBe(1);
  });
});

describe("shading", () => {
  it("is brighter on the side that faces north-west", () => {
    const toNorthWest = shading(grid((x, y) => (x - y) * 0.2));
    const toSouthEast = shading(grid((x, y) => (y - x) * 0.2));
    const middle = 20 * 41 + 20;
    expect(toNorthWest[middle] ?? 0).toBeGreaterThan(toSouthEast[middle] ?? 1);
    expect(shading(grid(() => 0))[middle]).toBeCloseTo(Math.SQRT1_2);
  });
});
