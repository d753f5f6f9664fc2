/** The mark of a post by its role. */

import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import RegularShape from "ol/style/RegularShape.js";
import Stroke from "ol/style/Stroke.js";
import type { PlanInks } from "./inks.ts";

/** Line post: a dot; end and gate: a square; corner: a larger square; strain: a diamond; tee: a triangle. */
export function postShape(
  inks: PlanInks,
  role: string,
  isMarked: boolean,
  overloaded: boolean,
  dot_px: number,
): CircleStyle | RegularShape {
  const ink = isMarked ? inks.accent : overloaded ? inks.stop : inks.ink;
  const isHollow = role === "line" && !overloaded && dot_px > 2.5;
  const fill = new Fill({ color: isHollow ? inks.paper : ink });
  const stroke = new Stroke({ color: ink, width: isMarked ? 3 : Math.min(1.5, dot_px) });
  const grown = isMarked ? 2 : 0;
  if (role === "line" || role === "bend")
    return new CircleStyle({ radius: (role === "bend" ? 5 : dot_px) + grown, fill, stroke });
  const corner = Math.PI / 4;
  if (role === "strain") return new RegularShape({ points: 4, radius: 7 + grown, angle: 0, fill, stroke });
  if (role === "tee") return new RegularShape({ points: 3, radius: 7 + grown, fill, stroke });
  return new RegularShape({
    points: 4,
    radius: (role === "corner" ? 8 : 6.5) + grown,
    angle: corner,
    fill,
    stroke,
  });
}
