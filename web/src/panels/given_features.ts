/** Features of a site file given to the job: how each is called on its buttons, and what it can be used as. */

import type { FilesAnswer } from "../api/client.ts";

export type Given = FilesAnswer["given"][number];
export type Layer = Given["layers"][number];

/** Every feature of a layer. */
export function featuresOf(layer: Layer): string[] {
  return [...layer.lines, ...layer.polygons, ...layer.points];
}

/** A point is no line; everything may be in the way: a pipe is drawn as a line. */
export function canBeLine(layer: Layer, feature: string): boolean {
  return !layer.points.includes(feature);
}

/** A drawing names no feature: what is alone in its layer goes by the layer, others by both. */
export function featureWords({ path }: Pick<Given, "path">, layer: Layer, feature: string): string {
  if (!/\.dxf$/i.test(path) || !layer.layer) return feature || layer.layer || path;
  return featuresOf(layer).length === 1 ? layer.layer : `${layer.layer}: ${feature}`;
}
