import { describe, expect, it } from "vitest";
import { bearingDeg, distance, type Point, pointAt, turnDeg } from "../src/flat/bearing.ts";
import { offsetLine, placeOn, pointAtStation, stations } from "../src/flat/polyline.ts";
import { snap } from "../src/flat/snap.ts";
import fixture from "./fixtures/flat.json";

const flatOf = (line: number[][]) => Float64Array.from(line.flat());

describe("places on lines, against shapely", () => {
  it.each(fixture.places)("station, nearest point and length (case %#)", (row) => {
    const line = flatOf(row.line);
    const place = placeOn(line, row.hand as unknown as Point);
    expect(place?.station_m).toBeCloseTo(row.station_m, 6);
    expect(Math.abs(place?.offset_m ?? Number.NaN)).toBeCloseTo(row.away_m, 6);
    expect(place?.point[0]).toBeCloseTo(row.near[0] ?? Number.NaN, 6);
    expect(place?.point[1]).toBeCloseTo(row.near[1] ?? Number.NaN, 6);
    expect(stations(line).at(-1)).toBeCloseTo(row.length_m, 6);
    const middle = pointAtStation(line, 0.37 * row.length_m);
    expect(middle[0]).toBeCloseTo(row.at_037[0] ?? Number.NaN, 6);
    expect(middle[1]).toBeCloseTo(row.at_037[1] ?? Number.NaN, 6);
  });

  it.each(fixture.offsets)("a mitred offset (case %#)", (row) => {
    const moved = offsetLine(flatOf(row.line), row.left_m);
    flatOf(row.moved).forEach((value, i) => {
      expect(moved[i]).toBeCloseTo(value, 6);
    });
  });

  it("left of a line going east is north of it", () => {
    expect(placeOn([0, 0, 10, 0], [4, 3])).toMatchObject({ station_m: 4, offset_m: 3, leg: 0 });
    expect(placeOn([0, 0, 10, 0], [4, -3])?.offset_m).toBe(-3);
    expect(placeOn([5, 5, 5, 5], [0, 0])).toBeNull();
  });
});

describe("bearings", () => {
  it("are clockwise from north", () => {
    expect(bearingDeg([0, 0], [0, 1])).toBe(0);
    expect(bearingDeg([0, 0], [1, 0])).toBe(90);
    expect(bearingDeg([0, 0], [0, -1])).toBe(180);
    expect(bearingDeg([0, 0], [-1, 0])).toBe(270);
    expect(bearingDeg([2, 2], [2, 2])).toBeNaN();
  });

  it("a right turn is positive", () => {
    expect(turnDeg(350, 80)).toBeCloseTo(90);
    expect(turnDeg(10, 280)).toBeCloseTo(-90);
    expect(turnDeg(0, 180)).toBe(180);
  });

  it("and distances lead back to the point", () => {
    for (let bearing = 0; bearing < 360; bearing += 7) {
      const there = pointAt([3, -4], bearing, 61);
      expect(distance([3, -4], there)).toBeCloseTo(61);
      expect(bearingDeg([3, -4], there)).toBeCloseTo(bearing);
    }
  });
});

describe("snapping", () => {
  const drawn: Point[] = [
    [0, 0],
    [60, 0],
  ];
  const nothing = { points: [], lines: [], drawn: [] };

  it("takes the nearest point within reach before anything else", () => {
    const caught = snap([10.4, 0.2], 1, {
      points: [
        [10, 0],
        [12, 0],
      ],
      lines: [[0, 0, 20, 0]],
      drawn,
    });
    expect(caught).toEqual({ point: [10, 0], caught: "point" });
  });

  it("catches the extension and the right angle of the last leg", () => {
    const ahead = snap([80, 0.5], 1, { ...nothing, drawn });
    expect(ahead.caught).toBe("extension");
    expect(ahead.point[0]).toBeCloseTo(80);
    expect(ahead.point[1]).toBeCloseTo(0);
    const square = snap([60.4, 36], 1, { ...nothing, drawn });
    expect(square.caught).toBe("right angle");
    expect(square.point[0]).toBeCloseTo(60);
    expect(square.point[1]).toBeCloseTo(36);
  });

  it("catches a line, and leaves a far hand free", () => {
    expect(snap([5, 0.5], 1, { ...nothing, lines: [[0, 0, 20, 0]] })).toEqual({
      point: [5, 0],
      caught: "line",
    });
    expect(snap([5, 9], 1, { ...nothing, lines: [[0, 0, 20, 0]] }).caught).toBe("free");
  });

  it("closes a four-sided paddock square, where two guides cross", () => {
    const three: Point[] = [
      [0, 0],
      [60, 0],
      [60, 36],
    ];
    const caught = snap([0.3, 35.8], 1, { ...nothing, drawn: three });
    expect(caught.caught).toBe("right angle");
    expect(caught.point[0]).toBeCloseTo(0);
    expect(caught.point[1]).toBeCloseTo(36);
  });
});
