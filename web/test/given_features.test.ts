import { expect, test } from "vitest";
import { canBeLine, featuresOf, featureWords } from "../src/panels/given_features.ts";

const barn = { layer: "BARN", lines: ["lwpolyline 31"], polygons: [], points: [] };
const pipes = { layer: "PIPES", lines: ["line 32", "line 33"], polygons: [], points: ["point 40"] };
const field = { layer: "boundary", lines: ["ditch"], polygons: ["home field"], points: ["big lime"] };

test("what a drawing leaves without a name goes by its layer", () => {
  expect(featureWords({ path: "plan.DXF" }, barn, "lwpolyline 31")).toBe("BARN");
  expect(featureWords({ path: "plan.dxf" }, pipes, "line 33")).toBe("PIPES: line 33");
  expect(featureWords({ path: "boundary.geojson" }, field, "ditch")).toBe("ditch");
  expect(featureWords({ path: "walk.gpx" }, { ...barn, layer: "" }, "")).toBe("walk.gpx");
});

test("a point is no line, and everything else is", () => {
  expect(featuresOf(field).filter((one) => canBeLine(field, one))).toEqual(["ditch", "home field"]);
});
