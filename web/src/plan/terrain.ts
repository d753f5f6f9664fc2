/** The ground under the plan: shading and contours of the job's terrain, or a picture that the user has dropped. */

import Feature from "ol/Feature.js";
import MultiLineString from "ol/geom/MultiLineString.js";
import ImageLayer from "ol/layer/Image.js";
import type Projection from "ol/proj/Projection.js";
import Static from "ol/source/ImageStatic.js";
import { contourStep, contours, type Grid, shading } from "../flat/contours.ts";

/** Marks of the contours, every fifth one heavier. */
export function contourMarks(grid: Grid, unit_m: number): Feature[] {
  const step_m = contourStep(grid, unit_m, 14);
  return contours(grid, step_m).map((contour) => {
    const pieces: number[][][] = [];
    for (let i = 0; i + 3 < contour.segments.length; i += 4) {
      const [x0, y0, x1, y1] = contour.segments.slice(i, i + 4) as [number, number, number, number];
      pieces.push([
        [x0, y0],
        [x1, y1],
      ]);
    }
    const mark = new Feature(new MultiLineString(pieces));
    const index = Math.round(contour.level_m / step_m);
    mark.setProperties({ kind: "contour", heavy: index % 5 === 0, level: contour.level_m }, true);
    return mark;
  });
}

/** The shading as a picture layer; null where the ground is flat or unknown. */
export async function shadingLayer(grid: Grid, projection: Projection): Promise<ImageLayer<Static> | null> {
  const light = shading(grid);
  const canvas = document.createElement("canvas");
  canvas.width = grid.columns;
  canvas.height = grid.rows;
  const brush = canvas.getContext("2d");
  if (!brush) return null;
  const picture = brush.createImageData(grid.columns, grid.rows);
  for (let row = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++) {
      const value = light[row * grid.columns + column] ?? Number.NaN;
      const at = 4 * ((grid.rows - 1 - row) * grid.columns + column);
      picture.data.fill(0, at, at + 3);
      picture.data[at + 3] = Number.isNaN(value) ? 0 : Math.round(90 * Math.max(0, 1 - value));
    }
  }
  brush.putImageData(picture, 0, 0);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/png"));
  if (!blob) return null;
  const half = grid.step_m / 2;
  const extent = [
    grid.x_m - half,
    grid.y_m - half,
    grid.x_m + (grid.columns - 0.5) * grid.step_m,
    grid.y_m + (grid.rows - 0.5) * grid.step_m,
  ];
  return pictureLayer(URL.createObjectURL(blob), extent, projection, 0.8);
}

/** A picture laid on the plan over an extent. [m] */
export function pictureLayer(
  url: string,
  extent: number[],
  projection: Projection,
  opacity: number,
): ImageLayer<Static> {
  return new ImageLayer({ source: new Static({ url, imageExtent: extent, projection }), opacity, zIndex: 0 });
}

/** The extent of a picture by its world file: six numbers, one a line; null where it is none or the picture is turned. */
export function worldExtent(text: string, width: number, height: number, unit_m: number): number[] | null {
  const numbers = text.trim().split(/\s+/).map(Number);
  const [across, turn_a, turn_b, down, x, y] = numbers;
  if (numbers.length !== 6 || numbers.some((value) => !Number.isFinite(value))) return null;
  if (
    turn_a !== 0 ||
    turn_b !== 0 ||
    across === undefined ||
    down === undefined ||
    x === undefined ||
    y === undefined
  )
    return null;
  if (!(across > 0) || !(down < 0)) return null;
  const left = x - across / 2;
  const top = y - down / 2;
  return [left, top + down * height, left + across * width, top].map((value) => value * unit_m);
}
