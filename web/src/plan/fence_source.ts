/** The marks of a fence by where they lie; its line posts apart, so that a view from far need not look through them. */

import type { Extent } from "ol/extent.js";
import type Feature from "ol/Feature.js";
import type Projection from "ol/proj/Projection.js";
import VectorSource from "ol/source/Vector.js";

/** A source of the fence's marks. It tells no change of its line posts by itself: who changes them says so. */
export class FenceSource extends VectorSource<Feature> {
  /** Marks of the line posts. */
  readonly linePosts = new VectorSource<Feature>();
  /** Line posts that are drawn from however far: chosen, or under the hand. */
  pointed: readonly Feature[] = [];
  /** From where the view now stands, marks of line posts would run into one another: none but the pointed are drawn. */
  leavesOut: () => boolean = () => false;

  override getFeaturesInExtent(extent: Extent, projection?: Projection): Feature[] {
    const between = this.leavesOut() ? this.pointed : this.linePosts.getFeaturesInExtent(extent, projection);
    return [...super.getFeaturesInExtent(extent, projection), ...between];
  }
}
