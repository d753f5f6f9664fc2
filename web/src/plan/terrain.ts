/** The ground under the plan: shading and contours of the job's terrain. */

import Feature from "ol/Feature.js";
import MultiLineString from "ol/geom/MultiLineString.js";
import type ImageLayer from "ol/layer/Image.js";
import type Projection from "ol/proj/Projection.js";
import type Static from "ol/source/ImageStatic.js";
import { contourStep, contours, type Grid, shading } from "../flat/contours.ts";
import { pictureLayer } from "./backdrops.ts";

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
  return pictureLayer(URL.createObjectURL(blob), extent, projection, 1);
}
