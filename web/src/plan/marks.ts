/** The plan's model turned into marks for the map. */

import type Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import Polygon from "ol/geom/Polygon.js";
import type { Point } from "../flat/bearing.ts";
import { markOf } from "./looks.ts";
import { flatOf, type PlanGate, type PlanModel, type PlanObstacle } from "./model.ts";

const LEAF_STEPS = 12;

/** Marks of what is there and cannot be fenced through. */
export function obstacleMarks(model: PlanModel): Feature[] {
  return model.obstacles.map((obstacle, row) => {
    const title = obstacle.name || obstacle.kind;
    const mark = markOf("obstacle", obstacle.name, {
      colour: obstacle.colour,
      letter: obstacle.letter,
      title,
      row,
    });
    mark.setGeometry(shapeOf(obstacle));
    return mark;
  });
}

function shapeOf(obstacle: PlanObstacle): OlPoint | LineString | Polygon {
  const points = obstacle.points.map((point) => [...point]);
  if (obstacle.shape === "area") return new Polygon([points]);
  if (obstacle.shape === "line" && points.length > 1) return new LineString(points);
  return new OlPoint(points[0] ?? [0, 0]);
}

/** Marks of the lines and of their corners, which a hand can take. */
export function lineMarks(model: PlanModel): Feature[] {
  const marks: Feature[] = [];
  for (const line of model.lines) {
    const mark = markOf("line", line.name);
    mark.setGeometry(new LineString(flatOf(line), "XY"));
    marks.push(mark);
    line.points.forEach((point, corner) => {
      const handle = markOf("corner", `${line.name}/${corner}`, { line: line.name, corner });
      handle.setGeometry(new OlPoint([...point]));
      marks.push(handle);
    });
  }
  return marks;
}

/** Marks of posts, braces and gates. */
export function fenceMarks(model: PlanModel): Feature[] {
  const marks: Feature[] = [];
  for (const brace of model.braces) {
    const mark = markOf("brace", brace.id);
    mark.setGeometry(new LineString([[...brace.from], [...brace.to]]));
    marks.push(mark);
  }
  for (const gate of model.gates) {
    const mark = markOf("gate", gate.name);
    mark.setGeometry(new LineString(swung(gate).map((point) => [...point])));
    marks.push(mark);
  }
  for (const place of model.were) {
    const mark = markOf("was", "");
    mark.setGeometry(new OlPoint([...place]));
    marks.push(mark);
  }
  for (const post of model.posts) {
    const mark = markOf("post", post.id, { role: post.role, overloaded: (post.utilisation ?? 0) > 1 });
    mark.setGeometry(new OlPoint([...post.at]));
    marks.push(mark);
  }
  return marks;
}

/** The leaf swung open a quarter turn: from the latch round to its open place, and back to the hinge. */
function swung(gate: PlanGate): Point[] {
  const shut = Math.atan2(gate.latch[1] - gate.hinge[1], gate.latch[0] - gate.hinge[0]);
  const arc = Array.from({ length: LEAF_STEPS + 1 }, (_, step): Point => {
    const angle = shut + (gate.opens * Math.PI * step) / (2 * LEAF_STEPS);
    return [gate.hinge[0] + gate.leaf_m * Math.cos(angle), gate.hinge[1] + gate.leaf_m * Math.sin(angle)];
  });
  return [gate.hinge, ...arc, gate.hinge];
}
