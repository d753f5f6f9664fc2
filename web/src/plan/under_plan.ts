/** What lies under the plan: the terrain's shading and contours, and the backgrounds of the job. */

import type ImageLayer from "ol/layer/Image.js";
import type Static from "ol/source/ImageStatic.js";
import type { JobState } from "../api/client.ts";
import type { Grid } from "../flat/contours.ts";
import { type Backgrounds, backgroundsOf, TERRAIN } from "../state/backgrounds.ts";
import { FOOT_M, type System } from "../units/show.ts";
import { Backdrops } from "./backdrops.ts";
import { LOCAL, type PlanMap, type PlanSources, replace } from "./map.ts";
import { contourMarks, shadingLayer } from "./terrain.ts";

/** Of the ink that shading would have alone. */
const SHADING = 0.8;

export class UnderPlan {
  readonly backdrops: Backdrops;
  private shaded: ImageLayer<Static> | null = null;
  /** Terrains asked for so far: shading takes its time, and only the newest is laid. */
  private asked = 0;
  private backgrounds: Backgrounds | null = null;

  constructor(
    private readonly on: PlanMap,
    private readonly sources: PlanSources,
    /** Whether nothing else is on the plan: then it shows the backgrounds. */
    isAlone: () => boolean,
  ) {
    this.backdrops = new Backdrops(on.map, LOCAL, isAlone);
  }

  /** Lay the terrain under the plan: shading and contours; null takes them away. */
  async showTerrain(grid: Grid | null, system: System): Promise<void> {
    const number = ++this.asked;
    const { heights } = this.sources;
    replace(heights, grid ? contourMarks(grid, system === "us" ? FOOT_M : 1) : []);
    const layer = grid && heights.getFeatures().length > 0 ? await shadingLayer(grid, LOCAL) : null;
    if (number !== this.asked) return;
    if (this.shaded) this.on.map.removeLayer(this.shaded);
    if (layer) this.on.map.addLayer(layer);
    this.shaded = layer;
    this.chooseTerrain();
  }

  /** Follow the backgrounds of the job: its terrain is one of them. */
  followJob(job: JobState): void {
    const backgrounds = backgroundsOf(job.id);
    if (this.backgrounds !== backgrounds) {
      this.backgrounds?.removeEventListener("change", this.chooseTerrain);
      backgrounds.addEventListener("change", this.chooseTerrain);
      this.backgrounds = backgrounds;
      this.backdrops.follow(backgrounds);
    }
    backgrounds.follow(job);
  }

  /** Files that were dropped on the page. */
  hand(files: readonly File[]): void {
    this.backgrounds?.hand(files);
  }

  private chooseTerrain = (): void => {
    const { isShown = true, opacity = 1 } = this.backgrounds?.choice(TERRAIN) ?? {};
    for (const layer of [this.shaded, this.on.contoured]) layer?.setVisible(isShown);
    this.shaded?.setOpacity(SHADING * opacity);
    this.on.contoured.setOpacity(opacity);
  };
}
