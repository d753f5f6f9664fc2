/** A corner, a gate or a point of an obstacle in the hand: what catches it, and how it looks while it moves. */

import type Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import { distance, type Point } from "../flat/bearing.ts";
import type { SnapField, Snapped } from "../flat/snap.ts";
import { type System, showLong } from "../units/show.ts";
import {
  caughtPoint,
  caughtStation,
  cornerField,
  cornersAt,
  gateStations,
  obstacleField,
} from "./catching.ts";
import { type Held, type Moved, stationOnLine } from "./hands.ts";
import type { PlanSources } from "./map.ts";
import { replace } from "./map.ts";
import { obstacleShape } from "./marks.ts";
import { flatOf, type PlanModel } from "./model.ts";
import { handMarks } from "./sketching.ts";

/** The plan as the drag sees it. */
export interface DragBoard {
  readonly model: PlanModel;
  readonly system: System;
  readonly sources: PlanSources;
  /** A corner leaves the others at its place behind. */
  readonly alone: boolean;
}

/** One drag, from where it was taken: what it is caught by is looked up once. */
export class Dragging {
  /** Where it was last; null before it has moved. */
  moved: Moved | null = null;
  private readonly was: PlanModel;
  private readonly field: SnapField;
  private readonly stations: readonly number[];

  constructor(
    readonly held: Held,
    private readonly board: DragBoard,
  ) {
    this.was = board.model;
    const { kind, line = "", corner = 0, row = -1, point = 0 } = held;
    this.field =
      kind === "corner"
        ? cornerField(this.was, line, corner, board.alone)
        : obstacleField(this.was, row, point);
    this.stations = kind === "gate" ? gateStations(this.was, this.gateLine) : [];
  }

  private get gateLine(): string {
    return this.was.gates.find((gate) => gate.name === this.held.id)?.line ?? "";
  }

  /** The hand is at a place; a reach of 0 catches nothing. */
  to(hand: Point, reach_m: number): Moved | null {
    const { held } = this;
    this.moved = held.kind === "gate" ? this.gateTo(hand, reach_m) : this.pointTo(hand, reach_m);
    return this.moved;
  }

  private gateTo(hand: Point, reach_m: number): Moved | null {
    const line = this.was.lines.find((each) => each.name === this.gateLine);
    const along_m = stationOnLine(this.was, this.gateLine, hand);
    if (!line || along_m === null) return null;
    const { station_m, at } = caughtStation(flatOf(line), along_m, reach_m, this.stations);
    replace(this.board.sources.sketched, handMarks(at, showLong(station_m, this.board.system)));
    return { held: this.held, to: hand, station_m };
  }

  private pointTo(hand: Point, reach_m: number): Moved {
    const at = caughtPoint(hand, reach_m, this.field);
    const legs = (this.field.anchors ?? []).map((from) =>
      showLong(distance(from, at.point), this.board.system),
    );
    replace(this.board.sources.sketched, handMarks(at, legs.join(" / ")));
    if (this.held.kind === "corner") this.moveCorners(at.point);
    else this.moveObstacle(at);
    return { held: this.held, to: at.point, ...(this.board.alone ? { isAlone: true } : {}) };
  }

  /** Fences that share the corner go along, as they will when it is let go. */
  private moveCorners(to: Point): void {
    const { line: name = "", corner: number = 0 } = this.held;
    const place = this.was.lines.find((each) => each.name === name)?.points[number];
    if (!place) return;
    const moving = this.board.alone ? [{ line: name, corner: number }] : cornersAt(this.was, place);
    const marks = new Map(this.board.sources.lines.getFeatures().map((mark) => [keyOf(mark), mark]));
    for (const line of this.was.lines) {
      const corners = moving.filter((each) => each.line === line.name).map((each) => each.corner);
      if (corners.length === 0) continue;
      const points = line.points.map((point, i) => (corners.includes(i) ? to : point));
      marks.get(`line ${line.name}`)?.setGeometry(new LineString(flatOf({ ...line, points }), "XY"));
      for (const corner of corners)
        marks.get(`corner ${line.name}/${corner}`)?.setGeometry(new OlPoint([...to]));
    }
  }

  private moveObstacle({ point: to }: Snapped): void {
    const { row = -1, point: number = 0 } = this.held;
    const thing = this.was.obstacles[row];
    if (!thing) return;
    const points = thing.points.map((point, i) => (i === number ? to : point));
    for (const mark of this.board.sources.obstacles.getFeatures()) {
      if (mark.get("row") !== row) continue;
      if (mark.get("kind") === "obstacle") {
        mark.setGeometry(obstacleShape({ ...thing, points }));
        mark.set("held", true); // till it is let go its name stands in its middle
      } else if (mark.get("point") === number) mark.setGeometry(new OlPoint([...to]));
    }
  }
}

function keyOf(mark: Feature): string {
  return `${mark.get("kind")} ${mark.get("id")}`;
}
